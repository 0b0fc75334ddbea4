#include "estimate/cover.hpp"

#include <boost/multiprecision/cpp_int.hpp>

#include <cmath>
#include <limits>
#include <stdexcept>

namespace tarewell::estimate {
namespace {

namespace mp = boost::multiprecision;
// Wide enough for the product of every factor at its longest; overflow throws.
using integer = mp::number<mp::cpp_int_backend<1024, 1024, mp::signed_magnitude, mp::checked, void>, mp::et_off>;

struct rational {
    integer numerator = 0;
    integer denominator = 1;

    void multiply(const integer& top, const integer& bottom) {
        numerator *= top;
        denominator *= bottom;
    }
    void multiply(const quantity::decimal& value) {
        multiply(value.mantissa, integer{quantity::power_of_ten(value.scale)});
    }
    void multiply(const quantity::length& value) { multiply(integer{value.numerator}, integer{value.denominator}); }
    void add(const rational& other) {
        if (denominator == other.denominator) {
            numerator += other.numerator;
            return;
        }
        const integer common = mp::lcm(denominator, other.denominator);
        numerator = numerator * (common / denominator) + other.numerator * (common / other.denominator);
        denominator = common;
    }
};

long double real(const rational& value) {
    return value.numerator.convert_to<long double>() / value.denominator.convert_to<long double>();
}

long double real(const quantity::length& value) {
    return static_cast<long double>(value.numerator) / static_cast<long double>(value.denominator);
}

/// Everything but the arc: length x width x layers, times the program's factor without a rise; flat film has none.
rational plain_area(const cover_size& cover, const constants& program) {
    rational area{1, 1};
    area.multiply(cover.length);
    area.multiply(cover.width);
    area.multiply(integer{cover.layers}, 1);
    if (!cover.rise && !cover.flat) area.multiply(program.curvature_factor);
    return area;
}

long double arc_factor_of(const cover_size& cover) {
    return cover.rise ? arc_factor(real(*cover.rise), real(cover.width)) : 1.0L;
}

/// Thousandths of the unit for each square foot.
void multiply_by_area_weight(rational& value, const cover_size& cover, const constants& program,
                             quantity::weight_unit unit) {
    value.multiply(1000, 1);
    if (cover.thickness) {
        // kg = ft2 x 0.09290304 m2 x mil x 0.0254 mm x g/cm3 (1 mm of 1 m2 is 1 dm3).
        value.multiply(9'290'304, 100'000'000);
        value.multiply(254, 10'000);
        value.multiply(cover.thickness->value);
        value.multiply(program.density_g_per_cm3);
        if (unit == quantity::weight_unit::lb) value.multiply(100'000'000, quantity::kg_per_lb_e8);
    } else {
        value.multiply(program.area_weight_lb_per_ft2);
        if (unit == quantity::weight_unit::kg) value.multiply(quantity::kg_per_lb_e8, 100'000'000);
    }
}

} // namespace

long double arc_factor(long double rise, long double width) {
    const long double radius = (width * width / 4 + rise * rise) / (2 * rise);
    return 4 * radius * std::atan(2 * rise / width) / width;
}

long double film_area_ft2(const cover_size& cover, const constants& program) {
    return real(plain_area(cover, program)) * arc_factor_of(cover);
}

quantity::weight claimed_weight(std::span<const cover_size> covers, const constants& program,
                                quantity::weight_unit unit) {
    rational exact;
    long double arcs = 0;
    bool any_arc = false;
    for (const auto& cover : covers) {
        rational thousandths = plain_area(cover, program);
        multiply_by_area_weight(thousandths, cover, program, unit);
        if (cover.rise) {
            any_arc = true;
            arcs += real(thousandths) * arc_factor_of(cover);
        } else {
            exact.add(thousandths);
        }
    }
    constexpr auto most = std::numeric_limits<std::int64_t>::max() / 4;
    if (real(exact) + arcs > static_cast<long double>(most))
        throw std::overflow_error("the covers' weight passes what a ledger can hold");
    if (any_arc) return quantity::weight{static_cast<std::int64_t>(std::floor(real(exact) + arcs + 0.5L))};
    const integer rounded = (2 * exact.numerator + exact.denominator) / (2 * exact.denominator);
    return quantity::weight{rounded.convert_to<std::int64_t>()};
}

long double clean_area_weight_lb_per_ft2(const quantity::mils& thickness, const quantity::decimal& density_g_per_cm3) {
    cover_size square{{1, 1}, {1, 1}, std::nullopt, 1, thickness};
    constants film;
    film.curvature_factor = {1, 0};
    film.density_g_per_cm3 = density_g_per_cm3;
    rational thousandths = plain_area(square, film);
    multiply_by_area_weight(thousandths, square, film, quantity::weight_unit::lb);
    return real(thousandths) / 1000;
}

} // namespace tarewell::estimate
