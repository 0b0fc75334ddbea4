#include "grant/account.hpp"

#include <algorithm>

namespace tarewell::grant {

using namespace records; // NOLINT

bool is_in_base(const cost& each) {
    if (each.fund != fund::grant || each.category == "indirect" || each.category == "equipment") return false;
    return each.in_base.value_or(each.category != "construction");
}

void base_sum::add(money amount, day on, const std::string& subaward) {
    sum_ += amount;
    if (subaward.empty()) return;
    auto& known = subawards_.try_emplace(subaward, subaward_sum{{}, on}).first->second;
    known.direct += amount;
    known.first = std::min(known.first, on);
}

money subaward_limit_on(const season& of, day first) {
    return quantity::money_from(of.number_on("subaward_limit", first));
}

money base_sum::capped() const {
    auto left = sum_;
    for (const auto& [name, each] : subawards_)
        left -= std::max(money{}, each.direct - subaward_limit_on(of_, each.first));
    return left;
}

namespace {

money base_through(const season& of, day last) {
    base_sum base{of};
    for (const auto& cost : of.costs)
        if (cost.date <= last && is_in_base(cost)) base.add(cost.amount, cost.date, cost.subaward);
    return base.capped();
}

} // namespace

money indirect_base_through(const season& of, day last) { return std::max(money{}, base_through(of, last)); }

namespace {

/// Shows each period of one percent, or of none, with the day before it and its own last.
template <class See> void for_each_percent(const season& of, day last, See&& see) {
    auto percent = of.the_award->indirect_percent;
    auto before = day::min();
    for (const auto& each : of.amendments) {
        if (!each.indirect_percent || each.date > last) continue;
        see(before, each.date - date::days{1}, percent);
        before = each.date - date::days{1};
        percent = each.indirect_percent;
    }
    see(before, last, percent);
}

} // namespace

money indirect_through(const season& of, day last, const std::function<money(day)>& base_through) {
    if (!of.the_award) return money{};
    // Each percent on what its days added to the base; rounded once, in 10^-9 of a cent's hundredth.
    quantity::wide sum = 0;
    money before;
    for_each_percent(of, last, [&](day, day end, const std::optional<decimal>& percent) {
        const auto through = base_through(end);
        if (percent)
            sum += quantity::wide{(through - before).count()} * percent->mantissa *
                   quantity::power_of_ten(9 - percent->scale);
        before = through;
    });
    return std::max(money{}, money{quantity::half_up(sum, quantity::power_of_ten(11))});
}

money indirect_through(const season& of, day last) {
    return indirect_through(of, last, [&](day end) { return base_through(of, end); });
}

std::vector<indirect_period> indirect_periods(const season& of, day last) {
    std::vector<indirect_period> periods;
    money base, charged;
    for_each_percent(of, last, [&](day before, day end, const std::optional<decimal>& percent) {
        const auto base_then = base_through(of, end), charged_then = indirect_through(of, end);
        if (percent && before < end)
            periods.push_back({{std::max(before + date::days{before == day::min() ? 0 : 1}, of.the_award->begins), end},
                               *percent,
                               base_then - base,
                               charged_then - charged});
        base = base_then;
        charged = charged_then;
    });
    return periods;
}

bool percent_was_amended(const season& of, day last) {
    return std::any_of(of.amendments.begin(), of.amendments.end(),
                       [&](const amendment& each) { return each.indirect_percent && each.date <= last; });
}

void see_indirect_rows(const season& of, day last, const std::function<void(const reconcile::evidence_row&)>& see) {
    if (!of.the_award->indirect_percent && !percent_was_amended(of, last)) return;
    for (const auto& cost : of.costs)
        if (is_in_base(cost) && cost.date <= last) see({kind::cost, cost.entry, std::nullopt});
    see({kind::award, of.the_award->entry, std::nullopt});
    for (const auto& each : of.amendments)
        if (each.indirect_percent && each.date <= last) see({kind::amendment, each.entry, std::nullopt});
}

bool requires_match(const award& of) { return of.match_percent && of.base != match_base::none; }

money match_required(const award& of, money on_grant) {
    if (!requires_match(of)) return money{};
    const auto& percent = *of.match_percent;
    if (of.base == match_base::grant) return quantity::percent_of(on_grant, percent);
    const auto hundred = 100 * quantity::power_of_ten(percent.scale);
    return money{quantity::half_up(quantity::wide{on_grant.count()} * percent.mantissa, hundred - percent.mantissa)};
}

} // namespace tarewell::grant
