#include "quantity/decimal.hpp"

#include <catch2/catch.hpp>

#include <array>
#include <cmath>
#include <limits>
#include <random>

using namespace tarewell::quantity;

// What reads and what does not is the interchange format's: decimals such as 228, 228.0 and 0.50; no
// exponents, nan, inf, thousands separators, signs where none makes sense, or spaces.

TEST_CASE("a decimal reads with the decimals that it is written with") {
    struct good {
        const char* text;
        std::int64_t mantissa;
        int scale;
    };
    const auto each = GENERATE(good{"228", 228, 0}, good{"228.0", 2280, 1}, good{"0.50", 50, 2}, good{"0", 0, 0},
                               good{"007", 7, 0}, good{"0.000000001", 1, 9},
                               good{"999999999.999999999", 999'999'999'999'999'999, 9}, good{"0000000000001.5", 15, 1});
    CAPTURE(each.text);
    const auto reading = read_decimal(each.text);
    CHECK(reading.fault == decimal_fault::none);
    CHECK(reading.value.mantissa == each.mantissa);
    CHECK(reading.value.scale == each.scale);
}

TEST_CASE("what is no decimal is refused with its fault") {
    struct bad {
        const char* text;
        decimal_fault fault;
    };
    const auto each = GENERATE(bad{"", decimal_fault::empty}, bad{"1e3", decimal_fault::not_a_number},
                               bad{"nan", decimal_fault::not_a_number}, bad{"inf", decimal_fault::not_a_number},
                               bad{"1,250", decimal_fault::not_a_number}, bad{".5", decimal_fault::not_a_number},
                               bad{"5.", decimal_fault::not_a_number}, bad{".", decimal_fault::not_a_number},
                               bad{"1.2.3", decimal_fault::not_a_number}, bad{" 5", decimal_fault::not_a_number},
                               bad{"5 ", decimal_fault::not_a_number}, bad{"0x10", decimal_fault::not_a_number},
                               bad{"\xD9\xA3", decimal_fault::not_a_number}, bad{"-", decimal_fault::not_a_number},
                               bad{"--5", decimal_fault::not_a_number}, bad{"-3.20", decimal_fault::sign},
                               bad{"+3", decimal_fault::sign}, bad{"1234567890", decimal_fault::too_many_digits},
                               bad{"0.0123456789", decimal_fault::too_many_digits},
                               bad{"12345678901e5", decimal_fault::not_a_number});
    CAPTURE(each.text);
    CHECK(read_decimal(each.text).fault == each.fault);
}

TEST_CASE("a credit may be negative but has no plus sign") {
    const auto credit = read_decimal("-3.20", true);
    CHECK(credit.fault == decimal_fault::none);
    CHECK(credit.value.mantissa == -320);
    CHECK(read_decimal("+3.20", true).fault == decimal_fault::sign);
    CHECK(read_decimal("-", true).fault == decimal_fault::not_a_number);
    CHECK(read_decimal("--3", true).fault == decimal_fault::not_a_number);
    CHECK(read_decimal("-.5", true).fault == decimal_fault::not_a_number);
}

TEST_CASE("228, 228.0 and 228.00 are the same number") {
    CHECK(decimal_of("228") == decimal_of("228.0"));
    CHECK(decimal_of("228.00") == decimal_of("228.0"));
    CHECK(decimal_of("-0.0") == decimal_of("0"));
    CHECK_FALSE(decimal_of("228.01") == decimal_of("228.0"));
    CHECK_FALSE(decimal_of("-228") == decimal_of("228"));
    CHECK_FALSE(decimal_of("22.8") == decimal_of("228"));
    CHECK_THROWS_AS(decimal_of("two"), std::invalid_argument);
}

TEST_CASE("halves are rounded towards plus infinity") {
    CHECK(half_up(24, 10) == 2);
    CHECK(half_up(25, 10) == 3);
    CHECK(half_up(26, 10) == 3);
    CHECK(half_up(-24, 10) == -2);
    CHECK(half_up(-25, 10) == -2);
    CHECK(half_up(-26, 10) == -3);
    CHECK(half_up(5, 10) == 1);
    CHECK(half_up(-5, 10) == 0);
    CHECK(half_up(0, 7) == 0);
    CHECK(half_up(1, 3) == 0);
    CHECK(half_up(3, 2) == 2);
    CHECK(half_up(-3, 2) == -1);
}

TEST_CASE("what passes 64 bits is an error and never a wrong number") {
    constexpr auto most = std::numeric_limits<std::int64_t>::max();
    constexpr auto least = std::numeric_limits<std::int64_t>::min();
    CHECK(half_up(wide{most}, 1) == most);
    CHECK(half_up(wide{least}, 1) == least);
    CHECK_THROWS_AS(half_up(wide{most} + 1, 1), std::overflow_error);
    CHECK_THROWS_AS(half_up(wide{most} * 2 + 1, 2), std::overflow_error); // rounds up past the end
    CHECK_THROWS_AS(half_up(wide{least} - 1, 1), std::overflow_error);
}

TEST_CASE("the nearest double of a quotient is what IEEE division gives where both are doubles") {
    // IEEE 754 division of two whole numbers below 2^53 is correctly rounded: an independent oracle.
    std::mt19937_64 dice{20260514};
    std::uniform_int_distribution<std::int64_t> any{-(std::int64_t{1} << 53), std::int64_t{1} << 53};
    std::uniform_int_distribution<std::int64_t> above_0{1, std::int64_t{1} << 53};
    std::uniform_int_distribution<int> shift{0, 52};
    int wrong = 0;
    for (int i = 0; i < 20'000; ++i) {
        const auto top = any(dice) >> shift(dice);
        const auto bottom = std::max<std::int64_t>(above_0(dice) >> shift(dice), 1);
        const auto quotient = static_cast<double>(top) / static_cast<double>(bottom);
        // Parts too large for doubles are divided digit by digit: the same quotient again.
        constexpr wide large = wide{1} << 60;
        if (nearest_double(top, bottom) != quotient || nearest_double(top * large, bottom * large) != quotient) ++wrong;
    }
    CHECK(wrong == 0);
}

TEST_CASE("the nearest double of what no double holds goes to the even neighbour on a tie") {
    constexpr wide limit = wide{1} << 53;
    CHECK(nearest_double(limit + 1, 1) == 9007199254740992.0); // computed: tie, 2^53 is even
    CHECK(nearest_double(limit + 3, 1) == 9007199254740996.0); // computed: tie, up to the even one
    CHECK(nearest_double(-(limit + 1), 1) == -9007199254740992.0);
    // computed: a billionth above the tie is no tie.
    CHECK(nearest_double((limit + 1) * 1'000'000'000 + 1, 1'000'000'000) == 9007199254740994.0);
    CHECK(nearest_double((limit + 1) * 1'000'000'000, 1'000'000'000) == 9007199254740992.0);
    CHECK(nearest_double(limit * 2 - 1, 1) == 18014398509481984.0); // computed: tie, carries into 2^54
    CHECK(nearest_double(0, 5) == 0.0);
    CHECK_FALSE(std::signbit(nearest_double(0, 5)));
    CHECK(nearest_double(power_of_ten(38), power_of_ten(37)) == 10.0);
}

TEST_CASE("powers of ten run to 10^38") {
    CHECK(power_of_ten(0) == 1);
    CHECK(power_of_ten(9) == 1'000'000'000);
    wide product = 1;
    for (int exponent = 0; exponent <= 38; ++exponent, product *= exponent <= 38 ? 10 : 1)
        REQUIRE((power_of_ten(exponent) == product));
}

TEST_CASE("numbers are shown with a fixed count of decimals or as short as they go") {
    CHECK(fixed_text(-12'340, 3) == "-12.340");
    CHECK(fixed_text(5, 3) == "0.005");
    CHECK(fixed_text(-5, 2) == "-0.05");
    CHECK(fixed_text(0, 2) == "0.00");
    CHECK(fixed_text(42, 0) == "42");
    CHECK(shortest_text(decimal_of("228.50")) == "228.5");
    CHECK(shortest_text(decimal_of("40.0")) == "40");
    CHECK(shortest_text(decimal_of("100")) == "100");
    CHECK(shortest_text(decimal_of("-0.00")) == "0");
    CHECK(shortest_text(decimal_of("-0.10")) == "-0.1");
}
