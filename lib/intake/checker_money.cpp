// The rules of costs, gifts, obligations, program income, requests and payments.
#include "intake/checker.hpp"
#include "intake/checker_texts.hpp"

namespace tarewell::intake {

using namespace ledger; // NOLINT: the rules read as the trade's sentences

bool checker::check_cost(const row& v, const complaint& complain) const {
    if (v[2] != "indirect" || !season_.the_award->indirect_percent) return true;
    complain("category", "indirect costs are worked out from the award's indirect_percent",
             "leave the row out, or use a direct category");
    return false;
}

bool checker::check_inkind(const row& v, const complaint& complain) const {
    if (is_within([&] { return inkind_value(v).count(); }, most_cents)) return true;
    complain("quantity", fmt::format("{} at a rate of {} passes what a ledger can hold", v[6], v[7]),
             "an amount is at most 999999999.99; mend quantity or rate");
    return false;
}

bool checker::check_rate(const row& v, const complaint& complain) const {
    for (const auto& each : season_.rates) {
        if (each.kind != v[1] || each.what != v[2] || quantity::text_of(each.begins) != v[3]) continue;
        complain("begins",
                 fmt::format("rate {} says what {} counts from {} already", quoted(each.id), v[2].empty() ? v[1] : v[2],
                             v[3]),
                 "one rate for each kind, use and day; correct the other, or name the use in what");
        return false;
    }
    return true;
}

bool checker::check_liquidation(const row& v, const complaint& complain) const {
    const auto place = *season_.find_obligation(v[2]);
    const auto& owed = season_.obligations[place];
    if (!v[4].empty() && season_.costs[*season_.find_cost(v[4])].fund != owed.fund) {
        complain("cost", fmt::format("cost {} and obligation {} are not on the same fund", quoted(v[4]), quoted(v[2])),
                 "an obligation on the grant is paid by a cost on the grant, one on match by a cost on match");
        return false;
    }
    const auto before = place < liquidated_.size() ? liquidated_[place] : 0;
    const auto left = quantity::money{owed.amount.count() - before};
    if (quantity::money_from(quantity::decimal_of(v[3])) <= left) return true;
    complain(
        "amount",
        fmt::format("{} is more than the {} that obligation {} has left", v[3], quantity::text_of(left), quoted(v[2])),
        "an obligation is paid or let go up to its amount; mend the amount, or correct the obligation");
    return false;
}

bool checker::check_income(const row& v, const complaint& complain) const {
    if (v[7].empty() || v[2] == "spent") return true;
    complain("cost", fmt::format("is given although the income is {}", v[2]),
             "only income that was spent names the cost that it paid");
    return false;
}

bool checker::check_request(const row& v, const complaint& complain) const {
    bool good = true;
    const auto place = *season_.find_cost(v[2]);
    if (season_.costs[place].fund != fund::grant) {
        complain("cost", fmt::format("cost {} is on match", quoted(v[2])), "a request claims costs on the grant");
        good = false;
    }
    if (const auto claimed = place < claimed_in_.size() ? claimed_in_[place] : std::nullopt) {
        complain("cost",
                 fmt::format("cost {} is claimed in request {} already", quoted(v[2]),
                             quoted(season_.requests[*claimed].request)),
                 "a cost is claimed once; mend the id, or void the other row");
        good = false;
    }
    const auto* before = season_.find_request(v[0]);
    if (before == nullptr) return good;
    const auto record = fmt::format("request {}", v[0]);
    good &= agrees("date", v[1], quantity::text_of(before->date), record, complain);
    const auto indirect = v[3].empty() ? quantity::money{} : quantity::money_from(quantity::decimal_of(v[3]));
    if (indirect != before->indirect)
        good &= agrees("indirect", v[3], quantity::text_of(before->indirect), record, complain);
    good &= agrees("document", v[4], before->document, record, complain);
    return good;
}

bool checker::check_payment(const row& v, const complaint& complain) const {
    bool good = true;
    if (v[2] == "reimbursement" && v[4].empty()) {
        complain("request", "is empty although the payment is a reimbursement",
                 "name the request whose costs it pays; an advance needs none");
        good = false;
    }
    if (v[2] != "reimbursement" && !v[4].empty()) {
        complain("request", fmt::format("is given although the payment is of kind {}", v[2]),
                 "only a reimbursement pays a request");
        good = false;
    }
    if (v[2] != "reimbursement" && !v[5].empty()) {
        complain("retained", fmt::format("is given although the payment is of kind {}", v[2]),
                 "the agency keeps back of a reimbursement only");
        good = false;
    }
    return good;
}

bool checker::check_note(const row& v, const complaint& complain) const {
    if (quantity::read_quarter(v[0])) return true;
    complain("quarter", fmt::format("{} is no quarter", quoted(v[0])), "write it as 2026-Q3");
    return false;
}

} // namespace tarewell::intake
