#include "quantity/period.hpp"

#include <catch2/catch.hpp>

#include <fmt/format.h>

using namespace tarewell;
using quantity::read_period;

namespace {

std::string days_in(const char* text, int first_month) {
    const auto days = quantity::days_of(*read_period(text), quantity::quarter_calendar{first_month});
    return fmt::format("{} {}", quantity::text_of(days.from), quantity::text_of(days.to));
}

} // namespace

TEST_CASE("a period is read as it is written, and nothing else is one") {
    for (const auto* text :
         {"2026-Q3", "2026", "final", "2026-Q1..2026-Q3", "2026-Q3..2026-Q3", "2026-04..2026-09", "2026-12..2027-01"}) {
        INFO(text);
        REQUIRE(read_period(text).has_value());
        CHECK(quantity::text_of(*read_period(text)) == text);
    }
    for (const auto* text :
         {"", "26", "0000", "2026-Q5", "2026-07", "Final", "2026..2027", "2026-Q3..2026-Q1", "2026-09..2026-04",
          "2026-Q1..2026-09", "2026-00..2026-03", "2026-01..2026-13", "2026-04...2026-09", " 2026"}) {
        INFO(text);
        CHECK_FALSE(read_period(text).has_value());
    }
}

TEST_CASE("a year is the program's four quarters, and months are the calendar's") {
    CHECK(days_in("2026", 1) == "2026-01-01 2026-12-31");
    CHECK(days_in("2026", 7) == "2026-07-01 2027-06-30");
    CHECK(days_in("2026-Q2..2026-Q3", 7) == "2026-10-01 2027-03-31");
    CHECK(days_in("2026-04..2026-09", 7) == "2026-04-01 2026-09-30");
    CHECK(days_in("2028-02..2028-02", 1) == "2028-02-01 2028-02-29");
    CHECK_THROWS_AS(days_in("final", 1), std::logic_error); // the award's to say
}

TEST_CASE("a quarter's sentence is said of a year or of another period, its names and the plural apart") {
    const auto year = *read_period("2026"), all = *read_period("final"), quarter = *read_period("2026-Q1");
    CHECK(said_of(year, "This quarter's bales, by the quarter's last day: in the quarter") ==
          "This year's bales, by the year's last day: in the year");
    CHECK(said_of(all, "Quarter before") == "Period before");
    CHECK(said_of(year, "quarters, quarter_from, headquarter, quarterly") ==
          "quarters, quarter_from, headquarter, quarterly");
    CHECK(said_of(quarter, "in the quarter") == "in the quarter");
}
