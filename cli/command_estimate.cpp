#include "desk/cover.hpp"

#include "context.hpp"

namespace tarewell::cli {

void add_estimate(const command& program, context& with) {
    auto sub = program.add(
        "estimate",
        "a cover's weight by its size, and its bundles (needs no ledger; takes the settings of one that is named)");
    auto& how = program.keep<desk::cover_request>();
    sub.value("--length", how.length, "length of the house, ft").required();
    sub.value("--width", how.width, "floor width, ft").required();
    auto rise = sub.value("--rise", how.rise, "floor to ridge, ft: the arc is worked out");
    auto half = sub.flag("--half-circle", how.half_circle, "the cover is a half circle over its floor").excludes(rise);
    sub.flag("--flat", how.flat, "an endwall or a flat sheet: no more film than floor").excludes(rise).excludes(half);
    sub.value("--layers", how.layers, "layers of film").between(1, 1000);
    sub.value("--mil", how.mil, "thickness in mil: the weight is worked out from it");
    sub.value("--factor", how.factor, "film area over floor area, without a rise (1.5, or the ledger's setting)");
    sub.value("--area-weight", how.area_weight,
              "the program's lb/ft2, without a thickness (0.04, or the ledger's setting)");
    sub.value("--density", how.density, "g/cm3, with a thickness (0.92, or the ledger's setting)");
    sub.flag("--metres", how.metres, "lengths are metres");
    sub.value("--unit", how.unit, "lb or kg").one_of({"lb", "kg"});
    sub.value("--aim", how.aim, "a bundle's usual weight, in the unit (50 lb, or the ledger's setting)");
    sub.value("--maximum", how.maximum, "a bundle's maximum weight, in the unit (60 lb, or the ledger's setting)");
    sub.value("--name", how.name, "the grower's name for the labels");
    sub.flag("--json", with.json, "JSON output");
    sub.does([&how, &with] {
        std::optional<ledger::ledger_file> named;
        if (with.names_a_ledger()) named = with.open();
        with.print(desk::estimate_of(how, named ? &*named : nullptr));
    });
}

} // namespace tarewell::cli
