#include "grant/financial.hpp"

#include "grant/account.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <tuple>

namespace tarewell::grant {

using namespace ledger; // NOLINT

tally payments_received(const season& of, span_of_days days) {
    tally received;
    for (const auto& each : of.payments)
        if (days.holds(each.date)) received.add(kind::payment, each.entry, each.amount.count());
    return received;
}

tally claimed_unpaid(const season& of, day last) {
    tally open;
    std::set<std::string> seen;
    for (const auto& each : of.requests) {
        if (each.date > last) continue;
        const auto indirect = seen.insert(each.request).second ? each.indirect.count() : 0;
        open.add(kind::request, each.entry, of.costs[each.cost].amount.count() + indirect);
        open.look_at(kind::cost, of.costs[each.cost].entry);
    }
    for (const auto& each : of.payments)
        if (each.date <= last && each.kind == payment_kind::reimbursement)
            open.add(kind::payment, each.entry, -each.amount.count() - each.retained.count());
    return open;
}

tally retained_through(const season& of, day last) {
    tally kept;
    for (const auto& each : of.payments) {
        if (each.date > last) continue;
        if (each.kind == payment_kind::retainage)
            kept.add(kind::payment, each.entry, -each.amount.count());
        else if (each.retained.count() != 0)
            kept.add(kind::payment, each.entry, each.retained.count());
    }
    return kept;
}

tally obligations_open(const season& of, day last) {
    tally open;
    for (const auto& each : of.obligations)
        if (each.fund == fund::grant && each.date <= last) open.add(kind::obligation, each.entry, each.amount.count());
    for (const auto& each : of.liquidations)
        if (of.obligations[each.obligation].fund == fund::grant && each.date <= last)
            open.add(kind::liquidation, each.entry, -each.amount.count());
    return open;
}

namespace {

tally paid_on_grant(const season& of, day last) {
    tally paid;
    for (const auto& each : of.costs)
        if (each.fund == fund::grant && each.category != "indirect" && each.paid_on && *each.paid_on <= last)
            paid.add(kind::cost, each.entry, each.amount.count());
    return paid;
}

tally incomes(const season& of, day last, bool earned, bool deducts) {
    tally sum;
    for (const auto& each : of.incomes)
        if (each.date <= last && each.earned == earned && (earned || each.deducts == deducts))
            sum.add(kind::income, each.entry, each.amount.count());
    return sum;
}

/// The match that goes with all that is authorized.
tally match_of_award(const season& of, const tally& authorized, day last) {
    const auto terms = of.terms_on(last);
    if (!terms.match_percent || terms.base == match_base::none) return budgeted_match(of, last);
    tally required;
    for (const auto& row : authorized.rows)
        required.look_at(row.which, row.entry);
    required.look_at(kind::award, terms.entry);
    for (const auto& each : of.amendments)
        if (each.date <= last) required.look_at(kind::amendment, each.entry);
    required.sum = match_required(terms, quantity::money{authorized.sum}).count();
    return required;
}

} // namespace

financial_lines financial_lines_through(const season& of, day last) {
    const span_of_days to_date{day::min(), last};
    const auto indirect = indirect_through(of, last);
    financial_lines made;
    const auto line = [&made](char letter) -> tally& { return made.lines[static_cast<std::size_t>(letter - 'a')]; };
    line('a') = payments_received(of, to_date);
    line('b') = paid_on_grant(of, last);
    line('b') += indirect;
    line('c') = line('a');
    line('c') -= line('b');
    line('d') = budgeted_grant(of, last);
    line('m') = incomes(of, last, false, true);
    line('e') = direct_on_grant(of, to_date);
    line('e') += indirect;
    line('e') -= line('m');
    line('f') = obligations_open(of, last);
    line('g') = line('e');
    line('g') += line('f');
    line('h') = line('d');
    line('h') -= line('g');
    line('i') = match_of_award(of, line('d'), last);
    line('j') = match_given(of, to_date);
    line('k') = line('i');
    line('k') -= line('j');
    line('l') = incomes(of, last, true, true);
    line('n') = incomes(of, last, false, false);
    line('o') = line('l');
    line('o') -= line('m');
    line('o') -= line('n');
    return made;
}

std::vector<request_state> requests_through(const season& of, day last) {
    std::map<std::string, request_state> by_id;
    for (const auto& each : of.requests) {
        if (each.date > last) continue;
        auto& state = by_id[each.request];
        state.request = each.request;
        state.date = each.date;
        state.indirect = each.indirect;
        state.direct += of.costs[each.cost].amount;
        state.costs.push_back(each.cost);
    }
    for (const auto& each : of.payments) {
        const auto found = by_id.find(each.request);
        if (each.date > last || each.kind != payment_kind::reimbursement || found == by_id.end()) continue;
        found->second.paid += each.amount;
        found->second.retained += each.retained;
    }
    std::vector<request_state> states;
    for (auto& [id, state] : by_id)
        states.push_back(std::move(state));
    std::sort(states.begin(), states.end(), [](const request_state& a, const request_state& b) {
        return std::tie(a.date, a.request) < std::tie(b.date, b.request);
    });
    return states;
}

budget_moves budget_moves_through(const season& of, day last) {
    budget_moves moves;
    std::map<std::string, std::int64_t> before;
    for (const auto& line : of.budget) {
        before[line.category] = line.grant.count() + line.match.count();
        moves.total += line.grant + line.match;
    }
    for (const auto& line : of.budget_on(last)) {
        const auto grown = line.grant.count() + line.match.count() - before[line.category];
        if (grown > 0) moves.moved += quantity::money{grown};
    }
    const auto limit = quantity::decimal_of(of.setting_on("budget_move_percent", last));
    moves.past_limit = quantity::wide{moves.moved.count()} * 100 * quantity::power_of_ten(limit.scale) >
                       quantity::wide{moves.total.count()} * limit.mantissa;
    return moves;
}

} // namespace tarewell::grant
