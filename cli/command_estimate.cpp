#include "context.hpp"
#include "estimate/cover.hpp"
#include "estimate/plan.hpp"
#include "records/season.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <ostream>

namespace tarewell::cli {
namespace {

using json = nlohmann::ordered_json;
using quantity::weight;
using quantity::weight_unit;

struct options {
    std::string length, width, rise, mil, name = "NAME";
    std::string factor, area_weight, density, aim, maximum; ///< empty: the program's
    int layers = 1;
    bool half_circle = false, metres = false, json = false;
    std::string unit = "lb";
};

quantity::decimal number(const char* flag, const std::string& text) {
    const auto reading = quantity::read_decimal(text);
    if (reading.fault != quantity::decimal_fault::none || reading.value.mantissa <= 0)
        throw ledger::input_error(fmt::format("{}: '{}' is no number above 0; write it as 30 or 7.5", flag, text));
    return reading.value;
}

quantity::length length(const char* flag, const std::string& text, bool metres) {
    return quantity::feet(number(flag, text), metres ? quantity::length_unit::m : quantity::length_unit::ft);
}

estimate::cover_size cover_of(const options& how) {
    estimate::cover_size cover;
    cover.length = length("--length", how.length, how.metres);
    cover.width = length("--width", how.width, how.metres);
    cover.layers = how.layers;
    if (how.half_circle)
        cover.rise = quantity::length{cover.width.numerator, cover.width.denominator * 2};
    else if (!how.rise.empty())
        cover.rise = length("--rise", how.rise, how.metres);
    if (!how.mil.empty()) cover.thickness = quantity::mils{number("--mil", how.mil)};
    return cover;
}

estimate::constants program_of(const options& how) {
    return {number("--factor", how.factor), number("--area-weight", how.area_weight), number("--density", how.density)};
}

/// What was not given is the program's: the ledger's settings where one is named, else the usual numbers.
options with_settings(options how, const context& with) {
    ledger::season program;
    if (!with.ledger_path.empty() || !with.environment("TAREWELL_LEDGER").empty()) {
        const auto file = with.open();
        file.for_each(ledger::kind::setting, file.head().seq, [&](const ledger::stored_row& stored) {
            program.add(stored.values, stored.entry, stored.entry);
        });
    }
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
        value = quantity::text_of(
            quantity::weight_from(quantity::decimal_of(program.setting_on(setting, latest)), weight_unit::lb, unit));
    };
    size(how.aim, "bundle_aim_lb");
    size(how.maximum, "bundle_maximum_lb");
    return how;
}

estimate::bundle_sizes sizes_of(const options& how, weight_unit unit) {
    const estimate::bundle_sizes sizes{quantity::weight_from(number("--aim", how.aim), unit, unit),
                                       quantity::weight_from(number("--maximum", how.maximum), unit, unit)};
    if (sizes.aim > sizes.maximum)
        throw ledger::input_error("--aim: a bundle's aim is above its maximum; give an aim of at most --maximum");
    return sizes;
}

struct result {
    long double area_ft2, factor;
    weight claimed;
    std::vector<weight> plan;
    std::optional<weight> by_constant; ///< what the program's constant would claim, where a thickness is given
    double constant_over_clean = 0;    ///< for the thickness given, or for 6 mil
};

result work_out(const options& how, weight_unit unit) {
    const auto cover = cover_of(how);
    const auto program = program_of(how);
    result made{};
    made.area_ft2 = estimate::film_area_ft2(cover, program);
    made.claimed = estimate::claimed_weight({&cover, 1}, program, unit);
    auto flat = cover;
    flat.thickness.reset();
    if (cover.thickness) made.by_constant = estimate::claimed_weight({&flat, 1}, program, unit);
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

std::string comparison(const options& how, const result& made) {
    const double percent = (made.constant_over_clean - 1) * 100;
    if (percent < 10) return {};
    return fmt::format("The program's constant, {} lb/ft2, claims {:.0f} % more than clean {} mil film can weigh{}.",
                       how.area_weight, percent, how.mil.empty() ? "6" : how.mil,
                       how.mil.empty() ? " (6 mil is usual for greenhouses; give --mil for this film)" : "");
}

void print(const options& how, const result& made, std::ostream& out) {
    out << fmt::format("film area     {:.1f} ft2 (floor area x {:.4f}, {} {})\n", static_cast<double>(made.area_ft2),
                       static_cast<double>(made.factor), how.layers, how.layers == 1 ? "layer" : "layers");
    out << fmt::format("estimate      {} {} ({})\n", quantity::text_of(made.claimed), how.unit,
                       how.mil.empty() ? how.area_weight + " lb/ft2, the program's constant"
                                       : how.mil + " mil at " + how.density + " g/cm3");
    if (made.by_constant)
        out << fmt::format("for comparison: the program's constant would claim {} {}\n",
                           quantity::text_of(*made.by_constant), how.unit);
    out << fmt::format("bundles       {}\n", made.plan.size());
    for (std::size_t i = 0; i < made.plan.size(); ++i)
        out << fmt::format("  {:>10} {}  {}\n", quantity::text_of(made.plan[i]), how.unit,
                           estimate::label_text(how.name, i + 1, made.plan.size()));
    if (const auto said = comparison(how, made); !said.empty()) out << said << '\n';
    out << "Lift bundles with help; cut off and leave out soiled edges, staples, twine and lath.\n";
}

void print_json(const options& how, const result& made, std::ostream& out) {
    json whole{{"film_area_ft2", static_cast<double>(made.area_ft2)},
               {"factor", static_cast<double>(made.factor)},
               {"weight", quantity::text_of(made.claimed)},
               {"unit", how.unit},
               {"basis", how.mil.empty() ? "constant" : "thickness"},
               {"weight_by_constant", quantity::text_of(made.by_constant.value_or(made.claimed))},
               {"constant_over_clean", made.constant_over_clean}};
    if (const auto said = comparison(how, made); !said.empty()) whole["note"] = said;
    auto& bundles = whole["bundles"] = json::array();
    for (std::size_t i = 0; i < made.plan.size(); ++i)
        bundles.push_back({{"number", i + 1},
                           {"of", made.plan.size()},
                           {"weight", quantity::text_of(made.plan[i])},
                           {"label", estimate::label_text(how.name, i + 1, made.plan.size())}});
    out << whole.dump(2) << '\n';
}

void run_estimate(const options& given, context& with) {
    const auto how = with_settings(given, with);
    const auto unit = *quantity::read_weight_unit(how.unit);
    result made;
    try {
        made = work_out(how, unit);
    } catch (const std::invalid_argument& wrong) {
        throw ledger::input_error(wrong.what());
    } catch (const std::overflow_error& wrong) {
        throw ledger::input_error(wrong.what());
    }
    if (how.json)
        print_json(how, made, with.out);
    else
        print(how, made, with.out);
}

} // namespace

void add_estimate(const command& program, context& with) {
    auto sub = program.add(
        "estimate",
        "a cover's weight by its size, and its bundles (needs no ledger; takes the settings of one that is named)");
    auto& how = program.keep<options>();
    sub.value("--length", how.length, "length of the house, ft").required();
    sub.value("--width", how.width, "floor width, ft").required();
    auto rise = sub.value("--rise", how.rise, "floor to ridge, ft: the arc is worked out");
    sub.flag("--half-circle", how.half_circle, "the cover is a half circle over its floor").excludes(rise);
    sub.value("--layers", how.layers, "layers of film").between(1, 1000);
    sub.value("--mil", how.mil, "thickness in mil: the weight is worked out from it");
    sub.value("--factor", how.factor, "film area over floor area, without a rise (1.5, or the ledger's setting)");
    sub.value("--area-weight", how.area_weight,
              "the program's lb/ft2, without a thickness (0.04, or the ledger's setting)");
    sub.value("--density", how.density, "g/cm3, with a thickness (0.92, or the ledger's setting)");
    sub.flag("--metres", how.metres, "lengths are metres");
    sub.value("--unit", how.unit, "lb or kg").one_of({"lb", "kg"});
    sub.value("--aim", how.aim, "a bundle's usual weight, in the unit (50 lb, or the ledger's setting)");
    sub.value("--maximum", how.maximum, "a bundle's most weight, in the unit (60 lb, or the ledger's setting)");
    sub.value("--name", how.name, "the grower's name for the labels");
    sub.flag("--json", how.json, "for machines");
    sub.does([&how, &with] { run_estimate(how, with); });
}

} // namespace tarewell::cli
