#include "desk/cover.hpp"

#include "estimate/cover.hpp"
#include "estimate/plan.hpp"
#include "records/season.hpp"

namespace tarewell::desk {
namespace {

using quantity::weight;
using quantity::weight_unit;

quantity::decimal number(const char* flag, const std::string& text) {
    const auto reading = quantity::read_decimal(text);
    if (reading.fault != quantity::decimal_fault::none || reading.value.mantissa <= 0)
        throw records::input_error(fmt::format("{}: '{}' is not a number above 0; write it as 30 or 7.5", flag, text));
    return reading.value;
}

quantity::length length(const char* flag, const std::string& text, bool metres) {
    return quantity::feet(number(flag, text), metres ? quantity::length_unit::m : quantity::length_unit::ft);
}

estimate::cover_size size_of(const cover_request& how) {
    estimate::cover_size cover;
    cover.length = length("--length", how.length, how.metres);
    cover.width = length("--width", how.width, how.metres);
    cover.layers = how.layers;
    cover.flat = how.flat;
    if (how.half_circle)
        cover.rise = quantity::length{cover.width.numerator, cover.width.denominator * 2};
    else if (!how.rise.empty())
        cover.rise = length("--rise", how.rise, how.metres);
    if (!how.mil.empty()) cover.thickness = quantity::mils{number("--mil", how.mil)};
    return cover;
}

estimate::constants program_of(const cover_request& how) {
    return {number("--factor", how.factor), number("--area-weight", how.area_weight), number("--density", how.density)};
}

/// What was not given is the program's: the ledger's settings where there is one, else the usual numbers.
cover_request with_settings(cover_request how, const ledger::ledger_file* settings) {
    records::season program;
    if (settings != nullptr)
        settings->for_each(records::kind::setting, settings->head().seq, [&](const ledger::stored_row& stored) {
            program.add(stored.values, stored.entry, stored.entry);
        });
    const auto latest = quantity::day::max();
    const auto fill = [&](std::string& value, const char* setting) {
        if (value.empty()) value = program.setting_on(setting, latest);
    };
    fill(how.factor, "curvature_factor");
    fill(how.area_weight, "area_weight_lb_per_ft2");
    fill(how.density, "density_g_per_cm3");
    const auto unit = *quantity::read_weight_unit(how.unit);
    const auto size = [&](std::string& value, const char* setting) {
        if (!value.empty()) return;
        value = quantity::text_of(quantity::weight_from(program.number_on(setting, latest), weight_unit::lb, unit));
    };
    size(how.aim, "bundle_aim_lb");
    size(how.maximum, "bundle_maximum_lb");
    return how;
}

estimate::bundle_sizes sizes_of(const cover_request& how, weight_unit unit) {
    const estimate::bundle_sizes sizes{quantity::weight_from(number("--aim", how.aim), unit, unit),
                                       quantity::weight_from(number("--maximum", how.maximum), unit, unit)};
    if (sizes.aim > sizes.maximum)
        throw records::input_error("--aim: a bundle's aim is above its maximum; give an aim of at most --maximum");
    return sizes;
}

struct result {
    long double area_ft2, factor;
    weight claimed;
    std::vector<weight> plan;
    std::optional<weight> by_constant; ///< what the program's constant would claim, where a thickness is given
    double constant_over_clean = 0;    ///< for the thickness given, or for 6 mil
};

result work_out(const cover_request& how, weight_unit unit) {
    const auto cover = size_of(how);
    const auto program = program_of(how);
    result made{};
    made.area_ft2 = estimate::film_area_ft2(cover, program);
    made.claimed = estimate::claimed_weight({&cover, 1}, program, unit);
    auto without = cover;
    without.thickness.reset();
    if (cover.thickness) made.by_constant = estimate::claimed_weight({&without, 1}, program, unit);
    const auto thickness = cover.thickness.value_or(quantity::mils{{6, 0}});
    const auto constant = program.area_weight_lb_per_ft2;
    made.constant_over_clean = static_cast<double>(
        static_cast<long double>(constant.mantissa) / static_cast<long double>(quantity::power_of_ten(constant.scale)) /
        estimate::clean_area_weight_lb_per_ft2(thickness, program.density_g_per_cm3));
    const auto floor_area = static_cast<long double>(cover.length.numerator) /
                            static_cast<long double>(cover.length.denominator) *
                            static_cast<long double>(cover.width.numerator) /
                            static_cast<long double>(cover.width.denominator) * cover.layers;
    made.factor = made.area_ft2 / floor_area;
    made.plan = estimate::bundle_plan(made.claimed, sizes_of(how, unit));
    return made;
}

std::string comparison(const cover_request& how, const result& made) {
    const double percent = (made.constant_over_clean - 1) * 100;
    if (percent < 10) return {};
    return fmt::format("The program's constant, {} lb/ft2, claims {:.0f} % more than clean {} mil film can weigh{}.",
                       how.area_weight, percent, how.mil.empty() ? "6" : how.mil,
                       how.mil.empty() ? " (6 mil is usual for greenhouses; give --mil for this film)" : "");
}

/// Film of the trade is 1 to 12 mil thick, ground sheets up to 20 (common practice, no source): beyond is a slip.
std::string odd_thickness(const cover_request& how) {
    if (how.mil.empty()) return {};
    const auto mil = quantity::nearest_double(number("--mil", how.mil));
    if (mil >= 0.5 && mil <= 20) return {};
    return fmt::format("{} mil is no usual film, which is 1 to 12 mil: look whether --mil is in thousandths of an inch "
                       "(25 micrometres are 1 mil).",
                       how.mil);
}

void tell_bundles(answer& made, const cover_request& how, const std::vector<weight>& plan) {
    auto& bundles = made.data["bundles"] = value::array();
    made.say("bundles       {}\n", plan.size());
    for (std::size_t i = 0; i < plan.size(); ++i) {
        const auto label = estimate::label_text(how.name, i + 1, plan.size());
        made.say("  {:>10} {}  {}\n", quantity::text_of(plan[i]), how.unit, label);
        bundles.push_back({{"number", i + 1}, {"of", plan.size()}, {"weight", plan[i]}, {"label", label}});
    }
}

answer tell(const cover_request& how, const result& of) {
    const double area = static_cast<double>(of.area_ft2), factor = static_cast<double>(of.factor);
    const auto said = comparison(how, of);
    answer made;
    made.data = {{"film_area_ft2", area},
                 {"factor", factor},
                 {"weight", of.claimed},
                 {"unit", how.unit},
                 {"basis", how.mil.empty() ? "constant" : "thickness"},
                 {"weight_by_constant", of.by_constant.value_or(of.claimed)},
                 {"constant_over_clean", of.constant_over_clean}};
    if (!said.empty()) made.data["note"] = said;
    const auto odd = odd_thickness(how);
    if (!odd.empty()) made.data["doubt"] = odd;
    made.say("film area     {:.1f} ft2 (floor area x {:.4f}, {} {})\n", area, factor, how.layers,
             how.layers == 1 ? "layer" : "layers");
    made.say("estimate      {} {} ({})\n", quantity::text_of(of.claimed), how.unit,
             how.mil.empty() ? how.area_weight + " lb/ft2, the program's constant"
                             : how.mil + " mil at " + how.density + " g/cm3");
    if (of.by_constant)
        made.say("for comparison: the program's constant would claim {} {}\n", quantity::text_of(*of.by_constant),
                 how.unit);
    tell_bundles(made, how, of.plan);
    if (!said.empty()) made.say("{}\n", said);
    if (!odd.empty()) made.say("{}\n", odd);
    made.say("Lift bundles with help; cut off and leave out soiled edges, staples, twine and lath.\n");
    return made;
}

} // namespace

answer estimate_of(const cover_request& given, const ledger::ledger_file* settings) {
    const auto how = with_settings(given, settings);
    try {
        return tell(how, work_out(how, *quantity::read_weight_unit(how.unit)));
    } catch (const std::invalid_argument& wrong) {
        throw records::input_error(wrong.what());
    } catch (const std::overflow_error& wrong) {
        throw records::input_error(wrong.what());
    }
}

} // namespace tarewell::desk
