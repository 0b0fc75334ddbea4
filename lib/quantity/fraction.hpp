#pragma once
#include "quantity/weight.hpp"

namespace tarewell::quantity {

// Exact arithmetic. What it gives is in lowest terms; both parts must fit 127 bits.

fraction fraction_of(const decimal& value);
fraction operator+(const fraction& a, const fraction& b);
fraction operator-(const fraction& a, const fraction& b);
fraction operator*(const fraction& a, const fraction& b);
/// b must not be 0.
fraction operator/(const fraction& a, const fraction& b);

inline double nearest_double(const fraction& of) { return nearest_double(of.numerator, of.denominator); }

} // namespace tarewell::quantity
