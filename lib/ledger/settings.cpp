#include "ledger/settings.hpp"

namespace tarewell::ledger {
namespace {

using st = setting_type;

constexpr setting_info settings[] = {
    {"curvature_factor", st::positive, "1.5",
     "film area over floor area of a cover without a rise (common practice, no source)"},
    {"area_weight_lb_per_ft2", st::positive, "0.04",
     "claimed weight of film without a thickness, lb/ft2 (common practice, no source)"},
    {"density_g_per_cm3", st::positive, "0.92", "density of LDPE film, g/cm3"},
    {"subaward_limit", st::amount, "50000",
     "what passes this amount in each subaward is outside the indirect base (2 CFR 200.1)"},
    {"estimate_tolerance_percent", st::positive, "25",
     "a bale or bundle further than this from its estimate is flagged"},
    {"bale_volume_ft3", st::nonnegative, "35",
     "the baler's box; 30 x 42 x 48 in is 35 ft3; 0 turns the density flag off"},
    {"bale_density_low_lb_per_ft3", st::nonnegative, "0",
     "a bale lighter than this for its size is flagged; one heavier than solid film always is"},
    {"bundle_aim_lb", st::positive, "50", "a bundle's usual weight (common practice, no source)"},
    {"bundle_maximum_lb", st::positive, "60", "a bundle's most weight (common practice, no source)"},
    {"accepted_films", st::list, "",
     "films that the program takes, set apart by ';'; empty takes any without a flag"},
};

} // namespace

std::span<const setting_info> all_settings() { return settings; }

const setting_info* find_setting(std::string_view name) {
    for (const auto& each : settings)
        if (each.name == name) return &each;
    return nullptr;
}

} // namespace tarewell::ledger
