#pragma once
#include "quantity/decimal.hpp"
#include "quantity/strong.hpp"

#include <optional>

namespace tarewell::quantity {

/// Thousandths of the award's unit (pounds or kilograms): what is shown is what is summed.
using weight = whole<struct thousandths_of_the_award_unit>;

enum class weight_unit { lb, kg };

/// One international avoirdupois pound is exactly 0.45359237 kg
/// (NIST Special Publication 811, appendix B; from memory).
inline constexpr std::int64_t kg_per_lb_e8 = 45'359'237;

std::optional<weight_unit> read_weight_unit(std::string_view text);
std::string_view name_of(weight_unit unit);

/// A value as written in `written`, taken into thousandths of `award`: converted exactly and
/// rounded half up once. Throws std::overflow_error past 64 bits.
weight weight_from(const decimal& value, weight_unit written, weight_unit award);

/// "1059.000"
std::string text_of(weight value);

/// Short tons (2,000 lb) as the nearest double. A kilogram award uses 907.18474 kg a ton.
double short_tons(weight value, weight_unit award);

/// The exact number of short tons as numerator / denominator.
struct fraction {
    wide numerator;
    wide denominator; ///< above 0
};
fraction short_tons_exact(weight value, weight_unit award);

} // namespace tarewell::quantity
