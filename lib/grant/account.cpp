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
        if (cost.fund == fund::match && days.holds(cost.date))
            given.add(kind::cost, cost.entry, cost.amount.count());
    for (const auto& gift : of.gifts)
        if (days.holds(gift.date)) given.add(kind::inkind, gift.entry, gift.value.count());
    return given;
}

tally indirect_base_through(const season& of, day last) {
    const auto limit = quantity::money_from(quantity::decimal_of(of.setting_on("subaward_limit", last)));
    tally base;
    std::map<std::string, std::int64_t> subawards;
    for (const auto& cost : of.costs) {
        if (cost.fund != fund::grant || cost.date > last || cost.category == "equipment" ||
            cost.category == "indirect")
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
    if (!of.the_award || !of.the_award->indirect_percent) return {};
    tally claimed;
    const auto base = indirect_base_through(of, last);
    for (const auto& row : base.rows) claimed.look_at(row.which, row.entry);
    claimed.look_at(kind::award, of.the_award->entry);
    claimed.sum = quantity::percent_of(money{base.sum}, *of.the_award->indirect_percent).count();
    return claimed;
}

tally budgeted_grant(const season& of) {
    tally budget;
    for (const auto& line : of.budget) budget.add(kind::budget, line.entry, line.grant.count());
    return budget;
}

money match_required(const award& award, money on_grant) {
    if (!award.match_percent || award.base == match_base::none) return money{};
    const auto& percent = *award.match_percent;
    if (award.base == match_base::grant) return quantity::percent_of(on_grant, percent);
    const auto hundred = 100 * quantity::power_of_ten(percent.scale);
    return money{quantity::half_up(quantity::wide{on_grant.count()} * percent.mantissa, hundred - percent.mantissa)};
}

} // namespace tarewell::grant
