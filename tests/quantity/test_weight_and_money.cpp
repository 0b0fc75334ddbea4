#include "quantity/money.hpp"
#include "quantity/weight.hpp"

#include <catch2/catch.hpp>

using namespace tarewell::quantity;

namespace {

constexpr auto lb = weight_unit::lb;
constexpr auto kg = weight_unit::kg;

std::string converted(const char* value, weight_unit written, weight_unit award) {
    return text_of(weight_from(decimal_of(value), written, award));
}

} // namespace

TEST_CASE("a weight in the award's unit keeps its thousandths") {
    CHECK(converted("1059", lb, lb) == "1059.000");
    CHECK(converted("0.001", kg, kg) == "0.001");
    CHECK(converted("999999999.999", lb, lb) == "999999999.999");
}

TEST_CASE("pounds and kilograms are converted exactly and rounded half up once") {
    // lb = 0.45359237 kg exactly: read in a secondary source; NIST Handbook 44 Appendix C and SP 811 from memory.
    CHECK(converted("1", lb, kg) == "0.454");                // computed: 0.45359237
    CHECK(converted("45.359237", kg, lb) == "100.000");      // C
    CHECK(converted("100000000", lb, kg) == "45359237.000"); // C
    CHECK(converted("100", kg, lb) == "220.462");            // computed: 220.46226...
}

TEST_CASE("a half of a thousandth goes up and less goes down") {
    CHECK(converted("0.0005", lb, lb) == "0.001");
    CHECK(converted("0.000499999", lb, lb) == "0.000");
    CHECK(converted("1.0015", kg, kg) == "1.002");
}

TEST_CASE("a short ton is 2,000 lb and 907.18474 kg") {
    // read in a secondary source; NIST Handbook 44 Appendix C from memory.
    CHECK(short_tons(weight{2'000'000}, lb) == 1.0);
    CHECK(short_tons(weight{90'718'474'000}, kg) == 100'000.0);
    const auto exact = short_tons_exact(weight{1}, kg);
    CHECK((exact.numerator * 90'718'474 == exact.denominator * 100));
    CHECK(short_tons(weight{-500'000}, lb) == -0.25);
}

TEST_CASE("published programs' tons come out again") {
    // read in SARE ONE09-112, and computed: 31 farmers, 55,574 lb, $9,850: 27.787 tons, $354.48 a ton.
    const auto collected = weight_from(decimal_of("55574"), lb, lb);
    CHECK(short_tons(collected, lb) == 27.787);
    CHECK(9850.0 / short_tons(collected, lb) == Approx(354.48).margin(0.005));
    // read in a state agriculture department, 2011 and 2012: 725,980 lb then 1,111,760 lb, 555.88 tons, +53.1 %.
    CHECK(short_tons(weight{1'111'760'000}, lb) == 555.88);
    CHECK(1'111'760.0 / 725'980.0 - 1 == Approx(0.531).margin(0.0005));
}

TEST_CASE("units are read by their two names alone") {
    CHECK(read_weight_unit("lb") == lb);
    CHECK(read_weight_unit("kg") == kg);
    for (const auto* other : {"LB", "lbs", "Kg", "", " lb", "g"})
        CHECK_FALSE(read_weight_unit(other));
    CHECK(name_of(lb) == "lb");
    CHECK(name_of(kg) == "kg");
}

TEST_CASE("an amount is whole cents") {
    CHECK(money_from(decimal_of("1250")).count() == 125'000);
    CHECK(money_from(decimal_of("0.5")).count() == 50);
    CHECK(money_from(decimal_of("-40.05")).count() == -4'005);
    CHECK_THROWS_AS(money_from(decimal_of("1.005")), std::invalid_argument);
    CHECK(text_of(money{-1'250}) == "-12.50");
    CHECK(text_of(money{7}) == "0.07");
}

TEST_CASE("quantity times rate is rounded half up to the cent once") {
    // Rates: read in the source and in a secondary source, Independent Sector 2022 31.80 $/h; in a secondary source,
    // IRS notices 2026 72.5 cents a mile.
    CHECK(text_of(money_from_rate(decimal_of("19.25"), decimal_of("31.80"))) == "612.15"); // computed: exact
    CHECK(text_of(money_from_rate(decimal_of("63"), decimal_of("0.725"))) == "45.68");     // computed: 45.675
    CHECK(text_of(money_from_rate(decimal_of("1"), decimal_of("0.004999"))) == "0.00");
    CHECK(text_of(money_from_rate(decimal_of("3"), decimal_of("7"))) == "21.00");
    CHECK_THROWS_AS(money_from_rate(decimal_of("999999999"), decimal_of("999999999")), std::overflow_error);
}

TEST_CASE("a percent of an amount is rounded half up to the cent") {
    CHECK(percent_of(money{1'000'000}, decimal_of("20")) == money{200'000});
    // read in 2 CFR 200.414(f): 15 % of the base; 325,000 read in 2 CFR 200.1 (2024).
    CHECK(percent_of(money{32'500'000}, decimal_of("15")) == money{4'875'000}); // C
    CHECK(percent_of(money{10}, decimal_of("5")) == money{1});                  // computed: half a cent goes up
    CHECK(percent_of(money{-10}, decimal_of("5")) == money{0});                 // computed: towards plus infinity
    CHECK(percent_of(money{333}, decimal_of("12.5")) == money{42});             // computed: 41.625
}

TEST_CASE("weights and amounts add and compare within their kind") {
    weight sum{1'000};
    sum += weight{500};
    sum -= weight{1};
    CHECK(sum == weight{1'499});
    CHECK(weight{2} - weight{5} == weight{-3});
    CHECK(-weight{2} < weight{1});
    CHECK(money{} == money{0});
    CHECK(money{5} > money{4});
}
