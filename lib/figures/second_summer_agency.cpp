#include "figures/second_summer.hpp"
#include "grant/account.hpp"

#include <set>

namespace tarewell::figures {

using namespace ledger; // NOLINT

/// A line of SF-425 in cents, from the tables alone.
std::int64_t second_summer::financial_line(char letter) const {
    const auto all = [](const std::vector<cell>&) { return true; };
    const auto to_date = [this](const table& of, row_test test) {
        return sum(of, "amount", both(std::move(test), dated(of, "date", when::to_date)));
    };
    const auto& costs = the("Costs");
    const auto& owed = the("Obligations");
    const auto& income = the("Program income");
    const auto& budget = the("Budget");
    const auto spent = [&](const char* method) {
        return to_date(income, both(says(income, "kind", "spent"), says(income, "method", method)));
    };
    switch (letter) {
    case 'a':
        return to_date(the("Payments"), all);
    case 'b':
        return sum(costs, "amount",
                   both(both(says(costs, "fund", "grant"), says(costs, "category", "indirect", false)),
                        dated(costs, "paid_on", when::to_date))) +
               indirect(when::to_date);
    case 'c':
        return financial_line('a') - financial_line('b');
    case 'd':
        return sum(budget, "grant", all);
    case 'e':
        return on_grant(when::to_date) + indirect(when::to_date) - financial_line('m');
    case 'f':
        return to_date(owed, says(owed, "fund", "grant"));
    case 'g':
        return financial_line('e') + financial_line('f');
    case 'h':
        return financial_line('d') - financial_line('g');
    case 'i':
        return terms_.match_percent && terms_.base != match_base::none
                   ? grant::match_required(terms_, money{financial_line('d')}).count()
                   : sum(budget, "match", all);
    case 'j':
        return match(when::to_date);
    case 'k':
        return financial_line('i') - financial_line('j');
    case 'l':
        return to_date(income, says(income, "kind", "earned"));
    case 'm':
        return spent("deduction");
    case 'n':
        return spent("addition");
    default:
        return financial_line('l') - financial_line('m') - financial_line('n');
    }
}

namespace {

constexpr const char* ways[] = {"'Amount' of Payments by the last day",
                                "'Amount' of Costs on the grant with 'Paid on' by the last day, category indirect left "
                                "out, and the second sum of indirect",
                                "the second sums of a less b",
                                "'Grant budget' of Budget",
                                "'Amount' of Costs on the grant by the last day and the second sum of indirect, less m",
                                "'Amount' of Obligations on the grant by the last day",
                                "the second sums of e and f",
                                "the second sums of d less g",
                                "the match percent applied to d, or without one 'Match budget' of Budget",
                                "'Amount' of Costs on match and 'Value' of In-kind by the last day",
                                "the second sums of i less j",
                                "'Amount' of Program income earned by the last day",
                                "'Amount' of Program income spent by deduction by the last day",
                                "'Amount' of Program income spent by addition by the last day",
                                "the second sums of l less m and n"};

} // namespace

std::optional<worked_out> second_summer::agency_money(const std::string& name) const {
    const auto& payments = the("Payments");
    const auto& requests = the("Requests");
    const auto paid_back = both(says(payments, "kind", "reimbursement"), dated(payments, "date", when::to_date));
    if (name.starts_with("line_10") && name.size() == 8)
        return worked_out{money{financial_line(name.back())}, ways[static_cast<std::size_t>(name.back() - 'a')]};
    if (name == "payments_received")
        return worked_out{money{sum(payments, "amount", dated(payments, "date", when::in_quarter))},
                          "'Amount' of Payments in the quarter"};
    if (name == "claimed_unpaid")
        return worked_out{
            money{sum(requests, "amount", dated(requests, "date", when::to_date)) - sum(payments, "amount", paid_back) -
                  sum(payments, "retained", paid_back)},
            "'Amount' of Requests less 'Amount' and 'Retained' of reimbursements in Payments, by the last day"};
    if (name == "retained_to_date")
        return worked_out{money{sum(payments, "retained", dated(payments, "date", when::to_date)) -
                                sum(payments, "amount",
                                    both(says(payments, "kind", "retainage"), dated(payments, "date", when::to_date)))},
                          "'Retained' of Payments less 'Amount' of retainage paid, by the last day"};
    if (name == "tipping_avoided") {
        const auto fee = quantity::decimal_of(s_.setting_on("tipping_fee_per_ton", on_.days.to));
        const char* way = "the second sum of diverted weight in tons, times the fee";
        if (fee.mantissa == 0) return worked_out{{}, way};
        const auto tons = quantity::short_tons_exact(weight{diverted(when::in_quarter)}, s_.the_award->unit);
        return worked_out{money{quantity::half_up(tons.numerator * fee.mantissa * 100,
                                                  tons.denominator * quantity::power_of_ten(fee.scale))},
                          way};
    }
    return std::nullopt;
}

/// Bales not counted as diverted by the last day, by the award's way of counting.
second_summer::row_test second_summer::not_counted() const {
    const auto& bales = the("Bales");
    if (s_.the_award->counted_when != counting::accepted) {
        const auto counted = dated(bales, "counted_on", when::to_date);
        return [counted](const std::vector<cell>& row) { return !counted(row); };
    }
    const auto& taken = the("Acceptances");
    std::set<std::string> shipments;
    for (const auto& row : taken.rows)
        if (holds(row[taken.column("date")], when::to_date))
            shipments.insert(std::get<std::string>(row[taken.column("shipment")]));
    return [shipments, at = bales.column("shipment")](const std::vector<cell>& row) {
        const auto* shipment = std::get_if<std::string>(&row[at]);
        return shipment == nullptr || !shipments.contains(*shipment);
    };
}

worked_out second_summer::projected_tons() {
    const auto& bales = the("Bales");
    const auto weighed = dated(bales, "weighed_on", when::to_date);
    const auto net = sum(bales, "net", weighed);
    const auto claimed = sum(bales, "estimate", weighed);
    const char* way =
        "the second sum of tons to date, 'Net' less 'Residue' of Bales weighed and not counted by the last day, "
        "and the estimate on hand times net over estimate of Bales weighed by then, in tons";
    const auto waiting =
        sum(bales, "net", both(weighed, not_counted())) - sum(bales, "residue", both(weighed, not_counted()));
    if (claimed == 0) return {{}, way};
    const auto ton = quantity::short_tons_exact(weight{1}, s_.the_award->unit);
    const auto top =
        quantity::wide{diverted(when::to_date) + waiting} * claimed + quantity::wide{units("on_hand_estimate")} * net;
    return {quantity::nearest_double(top * ton.numerator, claimed * ton.denominator), way};
}

} // namespace tarewell::figures
