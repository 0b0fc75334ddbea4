#include "grant/account.hpp"

#include <algorithm>
#include <map>

namespace tarewell::grant {

using namespace ledger; // NOLINT
using reconcile::tally;

tally direct_on_grant(const season& of, span_of_days days) {
    tally spent;
    for (const auto& cost : of.costs)
        if (cost.fund == fund::grant && cost.category != "indirect" && days.holds(cost.date))
            spent.add(kind::cost, cost.entry, cost.amount.count());
    return spent;
}

tally match_given(const season& of, span_of_days days) {
    tally given;
    for (const auto& cost : of.costs)
        if (cost.fund == fund::match && days.holds(cost.date)) given.add(kind::cost, cost.entry, cost.amount.count());
    for (const auto& gift : of.gifts)
        if (days.holds(gift.date)) given.add(kind::inkind, gift.entry, gift.value.count());
    return given;
}

tally indirect_base_through(const season& of, day last) {
    const auto limit = quantity::money_from(quantity::decimal_of(of.setting_on("subaward_limit", last)));
    tally base;
    std::map<std::string, std::int64_t> subawards;
    for (const auto& cost : of.costs) {
        if (cost.fund != fund::grant || cost.date > last || cost.category == "equipment" || cost.category == "indirect")
            continue;
        base.add(kind::cost, cost.entry, cost.amount.count());
        if (!cost.subaward.empty()) subawards[cost.subaward] += cost.amount.count();
    }
    for (const auto& [name, sum] : subawards)
        if (sum > limit.count()) base.sum -= sum - limit.count();
    base.sum = std::max<std::int64_t>(base.sum, 0);
    return base;
}

tally indirect_through(const season& of, day last) {
    if (!of.the_award) return {};
    tally claimed;
    for (const auto& row : indirect_base_through(of, last).rows)
        claimed.look_at(row.which, row.entry);
    claimed.look_at(kind::award, of.the_award->entry);
    // Each percent on what its days added to the base; rounded once, in 10^-9 of a cent's hundredth.
    quantity::wide sum = 0;
    std::int64_t base_before = 0;
    const auto add_period = [&](day end, const std::optional<decimal>& percent) {
        const auto base = indirect_base_through(of, end).sum;
        if (percent)
            sum += quantity::wide{base - base_before} * percent->mantissa * quantity::power_of_ten(9 - percent->scale);
        base_before = base;
    };
    auto percent = of.the_award->indirect_percent;
    for (const auto& each : of.amendments) {
        if (!each.indirect_percent || each.date > last) continue;
        add_period(each.date - date::days{1}, percent);
        percent = each.indirect_percent;
        claimed.look_at(kind::amendment, each.entry);
    }
    add_period(last, percent);
    claimed.sum = quantity::half_up(sum, quantity::power_of_ten(11));
    return sum == 0 && !percent ? tally{} : claimed;
}

namespace {

tally budgeted(const season& of, day on, money budget_line::*column) {
    tally budget;
    for (const auto& line : of.budget_on(on)) {
        const bool amended = std::any_of(of.rebudgets.begin(), of.rebudgets.end(),
                                         [&](const rebudget& each) { return each.entry == line.entry; });
        budget.add(amended ? kind::rebudget : kind::budget, line.entry, (line.*column).count());
    }
    return budget;
}

} // namespace

tally budgeted_grant(const season& of, day on) { return budgeted(of, on, &budget_line::grant); }
tally budgeted_match(const season& of, day on) { return budgeted(of, on, &budget_line::match); }

money match_required(const award& award, money on_grant) {
    if (!award.match_percent || award.base == match_base::none) return money{};
    const auto& percent = *award.match_percent;
    if (award.base == match_base::grant) return quantity::percent_of(on_grant, percent);
    const auto hundred = 100 * quantity::power_of_ten(percent.scale);
    return money{quantity::half_up(quantity::wide{on_grant.count()} * percent.mantissa, hundred - percent.mantissa)};
}

} // namespace tarewell::grant
