#pragma once
#include "quantity/dimension.hpp"
#include "quantity/weight.hpp"

#include <optional>
#include <span>

namespace tarewell::estimate {

/// The program's own numbers for an estimate by area. The defaults are common practice
/// (curvature factor, area weight) and the middle of LDPE's range (density).
struct constants {
    quantity::decimal curvature_factor{15, 1};      ///< film area over floor area, no unit
    quantity::decimal area_weight_lb_per_ft2{4, 2}; ///< claimed for any film without a thickness
    quantity::decimal density_g_per_cm3{92, 2};     ///< for films whose thickness is given
};

/// One cover of a house or tunnel, by the floor that it spans.
struct cover_size {
    quantity::length length;              ///< along the house, above 0
    quantity::length width;               ///< floor width, above 0
    std::optional<quantity::length> rise; ///< floor to ridge, above 0: then the arc is worked out
    int layers = 1;
    std::optional<quantity::mils> thickness;
    bool flat = false; ///< an endwall or sheet: without a rise it has no more film than floor
};

/// Arc length over floor width of the circular arc through both edges of the floor and the ridge.
/// Right past a half circle too. rise and width above 0, in the same unit. A half circle gives
/// pi/2; rise/width of 0.25, 0.30 and 0.40 give 1.1591, 1.2250 and 1.3832.
long double arc_factor(long double rise, long double width);

/// length x width x curvature factor x layers, in square feet, exact to about 18 digits.
long double film_area_ft2(const cover_size& cover, const constants& program);

/// What covers are claimed to weigh together, in thousandths of `unit`, rounded half up once.
/// Worked out exactly unless a rise brings in an arc, then to about 18 digits.
/// Throws std::overflow_error where the sum passes what a weight can hold.
quantity::weight claimed_weight(std::span<const cover_size> covers, const constants& program,
                                quantity::weight_unit unit);

/// Pounds a square foot of clean film, from density and thickness: 6 mil at 0.92 g/cm3 is 0.028717.
long double clean_area_weight_lb_per_ft2(const quantity::mils& thickness, const quantity::decimal& density_g_per_cm3);

} // namespace tarewell::estimate
