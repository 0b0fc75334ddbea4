#include "figures/terms.hpp"

#include "figures/expression.hpp"
#include "grant/account.hpp"
#include "grant/measures.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace tarewell::figures {
namespace {

real real_of(const fraction& value) { return quantity::nearest_double(value.numerator, value.denominator); }
real real_of(const std::optional<quantity::decimal>& value) {
    return value ? real_of(quantity::fraction_of(*value)) : 0.0;
}
real real_of(money value) { return quantity::nearest_double(value.count(), 100); }

quantity::day day_before(const basis& on) { return on.days.from - date::days{1}; }

} // namespace

std::vector<named_term> terms_of(const ledger::season& of, const basis& on) {
    const auto terms = of.terms_on(on.days.to);
    const std::string none = "the award gives none";
    const auto tons_of_unit = quantity::short_tons_exact(weight{1000}, terms.unit);
    return {
        {terms.unit == quantity::weight_unit::lb ? "Pounds in a ton" : "Kilograms in a ton of 2,000 lb",
         "unit_per_ton",
         real_of(fraction{1, 1} / tons_of_unit),
         {}},
        {"Goal, tons", "goal_tons", real_of(quantity::fraction_of(terms.goal_tons)), {}},
        {"Match, percent", "match_percent", real_of(terms.match_percent), terms.match_percent ? "" : none},
        {"Indirect, percent", "indirect_percent", real_of(terms.indirect_percent), terms.indirect_percent ? "" : none},
        {"Limit in each subaward, to date", "subaward_limit", real_of(grant::subaward_limit_on(of, on.days.to)), {}},
        {"Limit in each subaward, before the quarter",
         "subaward_limit_before",
         real_of(grant::subaward_limit_on(of, day_before(on))),
         {}},
        {"Landfill fee, $ per ton",
         "tipping_fee_per_ton",
         real_of(quantity::fraction_of(quantity::decimal_of(of.setting_on("tipping_fee_per_ton", on.days.to)))),
         {}},
    };
}

std::vector<subaward_line> subawards_of(const ledger::season& of, const basis& on) {
    std::map<std::string, subaward_line> lines;
    for (const auto& cost : of.costs) {
        if (cost.subaward.empty()) continue;
        auto& line = lines[cost.subaward];
        line.subaward = cost.subaward;
        if (!grant::is_in_base(cost)) continue;
        if (cost.date <= on.days.to) line.direct += cost.amount;
        if (cost.date < on.days.from) line.direct_before += cost.amount;
    }
    const auto limit = grant::subaward_limit_on(of, on.days.to), before = grant::subaward_limit_on(of, day_before(on));
    std::vector<subaward_line> all;
    for (auto& [name, line] : lines) {
        line.over = std::max(money{}, line.direct - limit);
        line.over_before = std::max(money{}, line.direct_before - before);
        all.push_back(std::move(line));
    }
    return all;
}

std::string subaward_formula(std::string_view day) {
    const auto& base = grant::measures::indirect_base;
    return fmt::format("=ROUND({},2)", summed_through(base, day, "costs_subaward,A#"));
}

} // namespace tarewell::figures
