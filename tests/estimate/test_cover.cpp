#include "estimate/cover.hpp"

#include <catch2/catch.hpp>

#include <numbers>
#include <vector>

using namespace tarewell;
using estimate::arc_factor;
using estimate::claimed_weight;
using estimate::constants;
using estimate::cover_size;
using quantity::decimal_of;
using quantity::length_unit;
using quantity::mils;
using quantity::weight;
using quantity::weight_unit;

namespace {

quantity::length feet(const char* text) { return quantity::feet(decimal_of(text), length_unit::ft); }
quantity::length metres(const char* text) { return quantity::feet(decimal_of(text), length_unit::m); }

cover_size floor_of(const char* length, const char* width, int layers = 1) {
    return {feet(length), feet(width), std::nullopt, layers, std::nullopt};
}

weight claimed(const std::vector<cover_size>& covers, weight_unit unit = weight_unit::lb,
               const constants& program = {}) {
    return claimed_weight(covers, program, unit);
}

double clean_film_1000_ft2(const char* mil, const char* density) {
    return static_cast<double>(1000 *
                               estimate::clean_area_weight_lb_per_ft2(mils{decimal_of(mil)}, decimal_of(density)));
}

} // namespace

TEST_CASE("a house of 96 x 30 ft is claimed to carry 4,320 ft2 of film that weigh 172.8 lb") {
    // computed, from the practice of 1.5 x floor area and 0.04 lb/ft2 (common practice, no source).
    const auto house = floor_of("96", "30");
    CHECK(static_cast<double>(film_area_ft2(house, {})) == 4320.0);
    CHECK(claimed({house}) == weight{172'800});
}

TEST_CASE("layers multiply a cover's film") {
    // common practice, no source: length x floor width x 1.5 x layers.
    CHECK(static_cast<double>(film_area_ft2(floor_of("96", "30", 2), {})) == 8640.0);
    CHECK(claimed({floor_of("96", "30", 2)}) == weight{345'600});
}

TEST_CASE("flat film, an endwall or a sheet, has no more area than its floor") {
    auto endwall = floor_of("30", "12", 2);
    endwall.flat = true;
    CHECK(static_cast<double>(film_area_ft2(endwall, {})) == 720.0);
    CHECK(claimed({endwall}) == weight{28'800}); // computed: 720 x 0.04
    endwall.rise = feet("6");                    // a rise says more than the word
    CHECK(static_cast<double>(film_area_ft2(endwall, {})) == Approx(720 * std::numbers::pi / 2)); // a half circle
}

TEST_CASE("the arc over the floor is worked out from the rise") {
    // computed: half circle pi/2; rise/width 0.25, 0.30, 0.40: 1.1591, 1.2250, 1.3832.
    CHECK(static_cast<double>(arc_factor(15, 30)) == Approx(std::numbers::pi / 2).epsilon(1e-15));
    CHECK(static_cast<double>(arc_factor(7.5L, 30)) == Approx(1.1591).margin(0.00005));
    CHECK(static_cast<double>(arc_factor(9, 30)) == Approx(1.2250).margin(0.00005));
    CHECK(static_cast<double>(arc_factor(12, 30)) == Approx(1.3832).margin(0.00005));
}

TEST_CASE("the arc is right past a half circle and close to flat") {
    // computed: a circle of radius r over a floor (a chord) that it passes below by 30 degrees each side:
    // width r sqrt(3), rise 3r/2, arc 4 pi r/3.
    const long double root3 = std::sqrt(3.0L);
    const long double expected = 4 * std::numbers::pi_v<long double> / (3 * root3);
    CHECK(static_cast<double>(arc_factor(1.5L, root3)) == Approx(static_cast<double>(expected)).epsilon(1e-15));
    // computed: for a small rise the arc is width x (1 + 8/3 (rise/width)^2).
    CHECK(static_cast<double>(arc_factor(0.001L, 1)) == Approx(1 + 8.0 / 3 * 1e-6).epsilon(1e-11));
}

TEST_CASE("the arc grows with the rise and is the same in every unit of length") {
    long double before = 1;
    for (int rise = 1; rise <= 100; ++rise) {
        const auto factor = arc_factor(rise, 30);
        REQUIRE(factor > before);
        REQUIRE(static_cast<double>(arc_factor(rise * 0.3048L, 30 * 0.3048L)) ==
                Approx(static_cast<double>(factor)).epsilon(1e-15));
        before = factor;
    }
}

TEST_CASE("a rise takes the place of the program's curvature factor") {
    auto house = floor_of("96", "30");
    house.rise = feet("15");
    constants program;
    program.curvature_factor = decimal_of("9");
    // computed: 2,880 ft2 of floor x pi/2 x 0.04 lb/ft2 = 180.956 lb.
    CHECK(claimed({house}, weight_unit::lb, program) == weight{180'956});
}

TEST_CASE("the program's own factor and area weight are used where it has them") {
    constants program;
    // read in motherearthnews.com hoophouse plastic: a 30 x 96 ft gothic house uses 48 x 100 ft, factor 1.60.
    program.curvature_factor = decimal_of("1.6");
    program.area_weight_lb_per_ft2 = decimal_of("0.03");
    CHECK(claimed({floor_of("96", "30")}, weight_unit::lb, program) == weight{138'240}); // C
}

TEST_CASE("clean film weighs what density and thickness make of it") {
    struct known {
        const char* mil;
        const char* density;
        double lb;
    };
    // computed, from 27,679.9/density in2/lb at 1 mil; densities read in chemgapedia.de glossary, Springer
    // 10.1007/978-1-4419-6247-8_7048; 6 and 4 mil read in ag.umass.edu "Plastic Greenhouse Film Update".
    const auto film = GENERATE(known{"6", "0.910", 28.405}, known{"6", "0.920", 28.717}, known{"6", "0.925", 28.873},
                               known{"6", "0.940", 29.341}, known{"4", "0.920", 19.145});
    CAPTURE(film.mil, film.density);
    CHECK(clean_film_1000_ft2(film.mil, film.density) == Approx(film.lb).margin(0.0005));
}

TEST_CASE("a pound of film covers what its makers say") {
    const auto in2_per_lb = 144'000 / clean_film_1000_ft2("1", "0.92");
    // read in ccc-films.com/resources: 30,100 in2/lb at 1 mil and 0.92 g/cm3 (as they round it).
    CHECK(in2_per_lb == Approx(30'100).epsilon(0.001));
    // read in imaflex.com agricultural films user manual: 30,000 in2/lb, +-5 %.
    CHECK(in2_per_lb == Approx(30'000).epsilon(0.05));
    CHECK(in2_per_lb == Approx(27'679.9 / 0.92).epsilon(1e-5)); // C
}

TEST_CASE("the usual 0.04 lb/ft2 claims about 39 % more than clean 6 mil film weighs") {
    // computed: 0.04 / 0.028717 = 1.393.
    CHECK(40 / clean_film_1000_ft2("6", "0.92") == Approx(1.393).margin(0.0005));
}

TEST_CASE("a thickness gives the weight by density in place of the area weight") {
    auto house = floor_of("96", "30");
    house.thickness = mils{decimal_of("6")};
    // computed: 4,320 ft2 x 28.7172 lb/1,000 ft2 = 124.058 lb (28.7172 from 144,000 x 6 x 0.92 / 27,679.9).
    CHECK(claimed({house}).count() == Approx(124'058).margin(2));
    constants heavier;
    heavier.density_g_per_cm3 = decimal_of("0.94");
    CHECK(claimed({house}, weight_unit::lb, heavier) > claimed({house}));
}

TEST_CASE("metres are taken exactly into feet") {
    // 1 ft = 0.3048 m: read in a secondary source; NIST Handbook 44 Appendix C and SP 811 from memory.
    const cover_size house{metres("29.2608"), metres("9.144"), std::nullopt, 1, std::nullopt};
    CHECK(claimed({house}) == weight{172'800}); // computed: 96 x 30 ft
    CHECK(static_cast<double>(film_area_ft2(house, {})) == 4320.0);
}

TEST_CASE("a claim in kilograms is the same film") {
    // computed: 172.8 lb x 0.45359237 = 78.380761536 kg.
    CHECK(claimed({floor_of("96", "30")}, weight_unit::kg) == weight{78'381});
    auto thick = floor_of("100", "10");
    thick.thickness = mils{decimal_of("6")};
    // computed: 1,500 ft2 x 0.09290304 m2 x 6 x 0.0254 mm x 0.92 = 19.538624... kg.
    CHECK(claimed({thick}, weight_unit::kg) == weight{19'539});
}

TEST_CASE("a registration's covers are rounded once together and not one by one") {
    // computed: 0.0125 x 0.04 x 1.5 lb = 0.00075 lb each: alone 0.001, four together 0.003 and not 0.004.
    const auto scrap = floor_of("0.125", "0.1");
    CHECK(claimed({scrap}) == weight{1});
    CHECK(claimed({scrap, scrap, scrap, scrap}) == weight{3});
}

TEST_CASE("a half of a thousandth goes up, exactly") {
    // computed: 0.125 x 0.1 ft x 0.04 lb/ft2 = 0.0005 lb.
    constants program;
    program.curvature_factor = decimal_of("1");
    CHECK(claimed({floor_of("0.125", "0.1")}, weight_unit::lb, program) == weight{1});
    CHECK(claimed({floor_of("0.124999", "0.1")}, weight_unit::lb, program) == weight{0}); // just below
}

TEST_CASE("no covers claim nothing") { CHECK(claimed({}) == weight{0}); }

TEST_CASE("covers too large for a ledger are an error and never a wrong number") {
    const auto absurd = floor_of("999999999", "999999999", 999'999'999);
    CHECK_THROWS_AS(claimed({absurd}), std::overflow_error);
    auto arched = absurd;
    arched.rise = feet("10");
    CHECK_THROWS_AS(claimed({arched}), std::overflow_error);
}
