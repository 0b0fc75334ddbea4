#pragma once
#include "quantity/decimal.hpp"

namespace tarewell::quantity {

/// Lengths and areas are kept as written: an exact decimal and its unit, never a double.
enum class length_unit { ft, m };

/// 1 ft = 0.3048 m exactly; 1 mil = 0.0254 mm exactly (NIST SP 811, from memory).
inline constexpr std::int64_t m_per_ft_e4 = 3048;

/// A length in feet as a decimal with its exact divisor: value_ft = mantissa / divisor.
struct length {
    wide numerator = 0;
    wide denominator = 1; ///< above 0
};

/// Feet from a value written in feet or metres, exactly.
length feet(const decimal& value, length_unit written);

/// Thickness in mils (thousandths of an inch), as a type of its own.
struct mils {
    decimal value;
};

} // namespace tarewell::quantity
