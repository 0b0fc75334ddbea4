#include "figures/second_summer.hpp"
#include "grant/account.hpp"

#include <algorithm>

namespace tarewell::figures {

using namespace ledger; // NOLINT

std::int64_t second_summer::on_grant(when which) const {
    const auto& of = the("Costs");
    return sum(
        of, "amount",
        both(both(says(of, "fund", "grant"), says(of, "category", "indirect", false)), dated(of, "date", which)));
}

std::int64_t second_summer::match(when which) const {
    const auto& of = the("Costs");
    const auto& gifts = the("In-kind");
    return sum(of, "amount", both(says(of, "fund", "match"), dated(of, "date", which))) +
           sum(gifts, "value", dated(gifts, "date", which));
}

/// The base of indirect costs in cents through a day.
std::int64_t second_summer::base_through(day last) const {
    const auto& of = the("Costs");
    const auto limit = quantity::money_from(quantity::decimal_of(s_.setting_on("subaward_limit", last))).count();
    const auto by_then = [at = of.column("date"), last](const std::vector<cell>& row) {
        return std::get<day>(row[at]) <= last;
    };
    const auto in_base = both(both(says(of, "fund", "grant"), says(of, "category", "equipment", false)),
                              both(says(of, "category", "indirect", false), by_then));
    std::int64_t base = 0;
    std::map<std::string, std::int64_t> subawards;
    for (const auto& row : of.rows) {
        if (!in_base(row)) continue;
        const auto amount = units_in(row[of.column("amount")]);
        base += amount;
        if (const auto* named = std::get_if<std::string>(&row[of.column("subaward")])) subawards[*named] += amount;
    }
    for (const auto& [name, all] : subawards)
        base -= std::max<std::int64_t>(0, all - limit);
    return std::max<std::int64_t>(0, base);
}

/// Each percent on what the base grew by while it was in force; rounded once.
std::int64_t second_summer::indirect(when which) const {
    const auto last = which == when::before ? on_.days.from - date::days{1} : on_.days.to;
    std::vector<std::pair<day, std::optional<decimal>>> percents{{day::min(), s_.the_award->indirect_percent}};
    for (const auto& each : s_.amendments)
        if (each.indirect_percent && each.date <= last) percents.emplace_back(each.date, each.indirect_percent);
    quantity::wide billionths = 0;
    for (std::size_t i = 0; i < percents.size(); ++i) {
        if (!percents[i].second) continue;
        const auto until = i + 1 < percents.size() ? percents[i + 1].first - date::days{1} : last;
        const auto grown = base_through(until) - (i == 0 ? 0 : base_through(percents[i].first - date::days{1}));
        billionths += quantity::wide{grown} * percents[i].second->mantissa *
                      quantity::power_of_ten(9 - percents[i].second->scale);
    }
    return quantity::half_up(billionths, quantity::power_of_ten(11));
}

std::optional<worked_out> second_summer::dollars(const std::string& name) const {
    const auto made = [](std::int64_t cents, const char* way) { return worked_out{money{cents}, way}; };
    if (name == "grant_spent")
        return made(on_grant(when::in_quarter),
                    "'Amount' of Costs on the grant in the quarter, category indirect left out");
    if (name == "grant_spent_to_date") return made(on_grant(when::to_date), "the same by the last day");
    if (name == "indirect_to_date")
        return made(indirect(when::to_date),
                    "the percent of Costs on the grant by the last day, less equipment and what "
                    "passes the limit in each subaward");
    if (name == "indirect_claimed")
        return made(indirect(when::to_date) - indirect(when::before),
                    "the same by the last day less the same by the day before the quarter");
    if (name == "match_given")
        return made(match(when::in_quarter), "'Amount' of Costs on match and 'Value' of In-kind in the quarter");
    if (name == "match_to_date") return made(match(when::to_date), "the same by the last day");
    const auto all_on_grant = on_grant(when::to_date) + indirect(when::to_date);
    const auto& budget = the("Budget");
    if (name == "grant_left")
        return made(sum(budget, "grant", [](const auto&) { return true; }) - all_on_grant,
                    "'Grant budget' of Budget less the grant's direct and indirect costs to date");
    if (name == "match_required")
        return made(grant::match_required(terms_, money{all_on_grant}).count(),
                    "the match percent applied to the second sums of direct and indirect to date");
    return std::nullopt;
}

worked_out second_summer::over(std::int64_t top, std::int64_t bottom, std::string way) const {
    if (bottom == 0) return {{}, std::move(way)};
    return {bottom > 0 ? quantity::nearest_double(top, bottom)
                       : quantity::nearest_double(-quantity::wide{top}, -quantity::wide{bottom}),
            std::move(way)};
}

worked_out second_summer::per_ton(std::int64_t cents, std::int64_t units, const char* way) const {
    if (units <= 0) return {{}, way};
    const auto tons = quantity::short_tons_exact(weight{units}, s_.the_award->unit);
    return {quantity::nearest_double(quantity::wide{cents} * tons.denominator, 100 * tons.numerator), way};
}

std::int64_t second_summer::units(const std::string& name) {
    const auto known = work_out(name).value;
    if (const auto* heft = std::get_if<weight>(&known)) return heft->count();
    return std::get<std::int64_t>(known);
}

std::optional<worked_out> second_summer::ratios(const std::string& name) {
    if (name == "weight_over_estimate")
        return over(units("bale_net_weight"), units("bale_estimate"), "the second sums of net over estimate");
    if (name == "rejected_share")
        return over(units("rejected_bundles"), units("rejected_bundles") + units("received_bundles"),
                    "the second sums of rejected over rejected and received");
    if (name == "residue_share")
        return over(units("residue_weight"), units("bale_net_weight"), "the second sums of residue over net");
    if (name == "goal_share") {
        const auto goal = terms_.goal_tons;
        if (goal.mantissa == 0) return worked_out{{}, "the goal is 0"};
        const auto exact = quantity::short_tons_exact(weight{diverted(when::to_date)}, s_.the_award->unit);
        return worked_out{quantity::nearest_double(exact.numerator * quantity::power_of_ten(goal.scale),
                                                   exact.denominator * goal.mantissa),
                          "the second sum of tons to date over the goal"};
    }
    const auto quarter = on_grant(when::in_quarter) + indirect(when::to_date) - indirect(when::before);
    const auto to_date = on_grant(when::to_date) + indirect(when::to_date);
    if (name == "cost_per_ton")
        return per_ton(quarter + match(when::in_quarter), diverted(when::in_quarter),
                       "the second sums of grant, indirect and match over tons");
    if (name == "grant_cost_per_ton")
        return per_ton(quarter, diverted(when::in_quarter), "the second sums of grant and indirect over tons");
    if (name == "cost_per_ton_to_date")
        return per_ton(to_date + match(when::to_date), diverted(when::to_date), "the same with the match, to date");
    if (name == "grant_cost_per_ton_to_date") return per_ton(to_date, diverted(when::to_date), "the same to date");
    return std::nullopt;
}

} // namespace tarewell::figures
