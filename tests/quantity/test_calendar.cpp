#include "quantity/quarter.hpp"

#include <catch2/catch.hpp>

using namespace tarewell::quantity;

TEST_CASE("a date reads as ISO 8601 and nothing else") {
    CHECK(text_of(day_of("2026-05-14")) == "2026-05-14");
    CHECK(text_of(day_of("2024-02-29")) == "2024-02-29");
    for (const auto* bad :
         {"", "2026-5-14", "14.05.2026", "2026/05/14", "2026-02-29", "2026-13-01", "2026-00-10", "2026-04-31",
          "2026-05-00", "0000-01-01", " 2026-05-14", "2026-05-14 ", "20260514", "2026-05-1a", "2026-05-14T00:00"}) {
        CAPTURE(bad);
        CHECK_FALSE(read_day(bad));
    }
    CHECK_FALSE(read_day("1900-02-29")); // computed: 1900 was no leap year
    CHECK(read_day("2000-02-29"));       // computed: 2000 was
    CHECK_THROWS_AS(day_of("soon"), std::invalid_argument);
}

TEST_CASE("a quarter reads as 2026-Q3 and nothing else") {
    CHECK(read_quarter("2026-Q3") == quarter{2026, 3});
    for (const auto* bad :
         {"", "2026Q3", "2026-q3", "2026-Q0", "2026-Q5", "26-Q3", "2026-Q31", "0000-Q1", "202a-Q1", "2026-Q3 "}) {
        CAPTURE(bad);
        CHECK_FALSE(read_quarter(bad));
    }
    CHECK(text_of(quarter{2026, 3}) == "2026-Q3");
}

TEST_CASE("quarters follow one another across the year") {
    CHECK(next(quarter{2026, 4}) == quarter{2027, 1});
    CHECK(next(quarter{2026, 1}) == quarter{2026, 2});
    CHECK(previous(quarter{2026, 1}) == quarter{2025, 4});
    CHECK(previous(quarter{2026, 3}) == quarter{2026, 2});
}

TEST_CASE("with July first, January to March 2027 is 2026-Q3") {
    // The interchange format's own example.
    const quarter_calendar calendar{7};
    CHECK(calendar.holding(day_of("2027-01-01")) == quarter{2026, 3});
    CHECK(calendar.holding(day_of("2027-03-31")) == quarter{2026, 3});
    CHECK(calendar.holding(day_of("2027-04-01")) == quarter{2026, 4});
    const auto days = calendar.days_of(quarter{2026, 3});
    CHECK(text_of(days.from) == "2027-01-01");
    CHECK(text_of(days.to) == "2027-03-31");
    CHECK(text_of(calendar.days_of(quarter{2026, 1}).from) == "2026-07-01");
}

TEST_CASE("with December first, a quarter ends on the last of February") {
    const quarter_calendar calendar{12};
    CHECK(text_of(calendar.days_of(quarter{2027, 1}).to) == "2028-02-29"); // computed: a leap year
    CHECK(text_of(calendar.days_of(quarter{2026, 1}).to) == "2027-02-28");
}

TEST_CASE("every day is in exactly one quarter, whatever the first month") {
    const auto first_month = GENERATE(range(1, 13));
    CAPTURE(first_month);
    const quarter_calendar calendar{first_month};
    int wrong = 0;
    for (day at = day_of("2023-01-01"); at <= day_of("2029-12-31"); at += date::days{1}) {
        const auto in = calendar.holding(at);
        const auto days = calendar.days_of(in);
        const bool good = in.number >= 1 && in.number <= 4 && days.holds(at) && !calendar.days_of(next(in)).holds(at) &&
                          !calendar.days_of(previous(in)).holds(at) &&
                          calendar.days_of(next(in)).from == days.to + date::days{1} && read_quarter(text_of(in)) == in;
        if (!good) ++wrong;
    }
    CHECK(wrong == 0);
}

TEST_CASE("a program year's first quarter begins with its first month, in the year that it carries") {
    const auto first_month = GENERATE(range(1, 13));
    CAPTURE(first_month);
    const date::year_month_day begins{quarter_calendar{first_month}.days_of(quarter{2026, 1}).from};
    CHECK(int{begins.year()} == 2026);
    CHECK(unsigned{begins.month()} == static_cast<unsigned>(first_month));
    CHECK(unsigned{begins.day()} == 1U);
}

TEST_CASE("both ends of a span of days are in it") {
    const span_of_days days{day_of("2026-04-01"), day_of("2026-06-30")};
    CHECK(days.holds(day_of("2026-04-01")));
    CHECK(days.holds(day_of("2026-06-30")));
    CHECK_FALSE(days.holds(day_of("2026-03-31")));
    CHECK_FALSE(days.holds(day_of("2026-07-01")));
}
