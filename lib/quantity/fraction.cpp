#include "quantity/fraction.hpp"

namespace tarewell::quantity {
namespace {

wide greatest_common(wide a, wide b) {
    while (b != 0) {
        const wide rest = a % b;
        a = b;
        b = rest;
    }
    return a < 0 ? -a : a;
}

fraction lowest(wide numerator, wide denominator) {
    auto common = greatest_common(numerator, denominator);
    if (denominator < 0) common = -common;
    return {numerator / common, denominator / common};
}

} // namespace

fraction fraction_of(const decimal& value) { return lowest(value.mantissa, power_of_ten(value.scale)); }

fraction operator+(const fraction& a, const fraction& b) {
    const auto common = greatest_common(a.denominator, b.denominator);
    return lowest(a.numerator * (b.denominator / common) + b.numerator * (a.denominator / common),
                  a.denominator / common * b.denominator);
}

fraction operator-(const fraction& a, const fraction& b) { return a + fraction{-b.numerator, b.denominator}; }

fraction operator*(const fraction& a, const fraction& b) {
    // Across first: the products stay small.
    const auto left = lowest(a.numerator, b.denominator), right = lowest(b.numerator, a.denominator);
    return {left.numerator * right.numerator, left.denominator * right.denominator};
}

fraction operator/(const fraction& a, const fraction& b) {
    return b.numerator < 0 ? a * fraction{-b.denominator, -b.numerator} : a * fraction{b.denominator, b.numerator};
}

} // namespace tarewell::quantity
