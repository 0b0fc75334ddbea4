#include "figures/pace.hpp"

#include "quantity/fraction.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace tarewell::figures {
namespace {

using quantity::day;
using quantity::fraction;

constexpr int pounds_in_a_ton = 2000;

fraction tons_of(const records::season& season, weight of) {
    return quantity::short_tons_exact(of, season.the_award->unit);
}

day told_through(const records::season& season, const basis& on) {
    const auto entered = season.entered_on(on.as_of);
    if (!entered) return on.days.to;
    day last = *entered;
    if (const auto rows = season.days_of_rows()) last = std::max(last, rows->to);
    return std::min(on.days.to, last);
}

int quarters_after(const quantity::quarter_calendar& calendar, quantity::span_of_days award, day through) {
    int count = 0;
    for (auto quarter = calendar.holding(award.from); calendar.days_of(quarter).from <= award.to;
         quarter = quantity::next(quarter))
        count += std::min(calendar.days_of(quarter).to, award.to) > through ? 1 : 0;
    return count;
}

fraction setting_of(const records::season& season, const char* name, day on) {
    return quantity::fraction_of(season.number_on(name, on));
}

void add_landfill(equivalents& to, const records::season& season, const fraction& tons, day on) {
    const auto density = setting_of(season, "landfill_lb_per_yd3", on);
    const auto source = season.setting_on("landfill_source", on);
    if (density.numerator == 0 || source.empty()) {
        to.left_out.emplace_back(
            "landfill volume: set landfill_lb_per_yd3 to a published weight and landfill_source to its name");
        return;
    }
    to.shown.push_back(
        {"Landfill volume not taken up", quantity::nearest_double(tons * fraction{pounds_in_a_ton, 1} / density),
         "cubic yards", source,
         "A volume by an average density: how tightly a landfill packs film differs from place to place."});
}

void add_fee(equivalents& to, const report& of) {
    const auto* fee = of.find("tipping_avoided");
    if (fee == nullptr || std::holds_alternative<std::monostate>(fee->value)) {
        to.left_out.emplace_back("landfill fee avoided: set tipping_fee_per_ton");
        return;
    }
    to.shown.push_back({"Landfill fee avoided", fee->value, "$", "the program's setting tipping_fee_per_ton",
                        "Avoided by whoever would have paid it, mostly growers; no income or saving of the grant."});
}

void add_climate(equivalents& to, const records::season& season, const fraction& tons, day on) {
    const auto factor = setting_of(season, "climate_factor", on);
    const auto source = season.setting_on("climate_source", on);
    if (factor.numerator == 0 || source.empty()) {
        to.left_out.emplace_back(
            "climate: nothing is said without a published factor (climate_factor, climate_source)");
        return;
    }
    to.shown.push_back({"Greenhouse gas avoided, by that factor", quantity::nearest_double(tons * factor),
                        "metric tons CO2 equivalent", source,
                        "By an average factor of that publication; nothing of it was measured here."});
}

} // namespace

pace pace_of(const records::season& season, const reconcile::reckoning& reckoned, const report& of) {
    const auto last = of.basis.days.to;
    const auto terms = season.terms_on(last);
    const quantity::span_of_days award{terms.begins, terms.ends};
    pace made;
    made.through = told_through(season, of.basis);
    made.days_in_all = static_cast<int>((award.to - award.from).count()) + 1;
    made.days_gone = std::clamp(static_cast<int>((made.through - award.from).count()) + 1, 0, made.days_in_all);
    made.elapsed_share = quantity::nearest_double(fraction{made.days_gone, made.days_in_all});
    const auto goal = quantity::fraction_of(terms.goal_tons);
    const auto to_date = tons_of(season, weight_over("diverted_weight", {day::min(), last}, season, reckoned));
    const auto left = goal - to_date;
    made.goal = quantity::nearest_double(goal);
    made.to_date = quantity::nearest_double(to_date);
    made.left = left.numerator > 0 ? quantity::nearest_double(left) : 0;
    const auto calendar = terms.calendar();
    made.quarters_left = quarters_after(calendar, award, made.through);
    if (made.quarters_left > 0)
        made.needed_a_quarter = made.left > 0 ? quantity::nearest_double(left / fraction{made.quarters_left, 1}) : 0;
    if (made.days_gone > 0) {
        const auto by_the_end = to_date * fraction{made.days_in_all, made.days_gone};
        const auto quarters = quarters_after(calendar, award, award.from - date::days{1});
        made.at_this_pace = quantity::nearest_double(by_the_end);
        made.so_far_a_quarter = quantity::nearest_double(by_the_end / fraction{quarters, 1});
    }
    return made;
}

equivalents equivalents_of(const records::season& season, const report& of) {
    equivalents made;
    const auto* diverted = of.find("diverted_weight");
    if (diverted == nullptr || std::get<weight>(diverted->value).count() <= 0) {
        made.left_out.emplace_back("nothing: no tons were diverted");
        return made;
    }
    const auto tons = tons_of(season, std::get<weight>(diverted->value));
    add_fee(made, of);
    add_landfill(made, season, tons, of.basis.days.to);
    add_climate(made, season, tons, of.basis.days.to);
    return made;
}

} // namespace tarewell::figures
