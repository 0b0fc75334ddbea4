#include "quantity/fraction.hpp"

#include <catch2/catch.hpp>

using namespace tarewell::quantity;

namespace {

bool same(const fraction& a, std::int64_t numerator, std::int64_t denominator) {
    return a.numerator == numerator && a.denominator == denominator;
}

} // namespace

TEST_CASE("fractions are added, multiplied and divided exactly, in lowest terms") {
    CHECK(same(fraction{1, 6} + fraction{1, 10}, 4, 15));
    CHECK(same(fraction{1, 6} - fraction{1, 6}, 0, 1));
    CHECK(same(fraction{-9, 4} * fraction{2, 3}, -3, 2));
    CHECK(same(fraction{1, 6} / fraction{-1, 4}, -2, 3));
    CHECK(same(fraction{0, 7} / fraction{3, 4}, 0, 1));
    CHECK(same(fraction_of(decimal_of("0.50")), 1, 2));
    CHECK(same(fraction_of(decimal_of("-3.2")), -16, 5));
}

TEST_CASE("fractions of large parts do not pass 127 bits where their result does not") {
    const wide large = power_of_ten(30);
    const auto product = fraction{large, 7} * fraction{21, large};
    CHECK(same(product, 3, 1));
    CHECK(same(fraction{1, large} / fraction{3, large}, 1, 3));
    const auto sum = fraction{large, 3} + fraction{large, 3};
    CHECK((sum.numerator == 2 * large && sum.denominator == 3));
}
