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

} // namespace

std::vector<named_term> terms_of(const records::season& of, const basis& on) {
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
        {"Landfill fee, $ per ton",
         "tipping_fee_per_ton",
         real_of(quantity::fraction_of(of.number_on("tipping_fee_per_ton", on.days.to))),
         {}},
    };
}

std::vector<subaward_line> subawards_of(const records::season& of, const basis& on) {
    std::map<std::string, subaward_line> lines;
    std::map<std::string, quantity::day> first;
    for (const auto& cost : of.costs) {
        if (cost.subaward.empty()) continue;
        auto& line = lines[cost.subaward];
        line.subaward = cost.subaward;
        if (!grant::is_in_base(cost) || cost.date > on.days.to) continue;
        line.direct += cost.amount;
        if (cost.date < on.days.from) line.direct_before += cost.amount;
        auto& known = first.try_emplace(cost.subaward, cost.date).first->second;
        known = std::min(known, cost.date);
    }
    std::vector<subaward_line> all;
    for (auto& [name, line] : lines) {
        const auto known = first.find(name);
        line.limit = grant::subaward_limit_on(of, known == first.end() ? on.days.to : known->second);
        line.over = std::max(money{}, line.direct - line.limit);
        line.over_before = std::max(money{}, line.direct_before - line.limit);
        all.push_back(std::move(line));
    }
    return all;
}

std::string subaward_formula(std::string_view day) {
    const auto& base = grant::measures::indirect_base;
    return fmt::format("=ROUND({},2)", summed_through(base, day, "costs_subaward,A#"));
}

} // namespace tarewell::figures
