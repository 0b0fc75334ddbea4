#include "account_season.hpp"
#include "grant/reporting_calendar.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;

namespace {

std::vector<std::string> due(const account_season& of, const char* on = "2027-12-31") {
    std::vector<std::string> lines;
    for (const auto& each : grant::reporting_calendar(of.of, quantity::day_of(on)))
        lines.push_back(each.name + " " + quantity::text_of(each.due));
    return lines;
}

} // namespace

TEST_CASE("a quarter's report is due 30 days after it, the final one 120 days after the award") {
    // read in 2 CFR 200.328(c)-(d), 200.329(c)(1) (2024).
    account_season season;
    CHECK(due(season) == std::vector<std::string>{"2026-Q1 2026-04-30", "2026-Q2 2026-07-30", "2026-Q3 2026-10-30",
                                                  "2026-Q4 2027-01-30", "final 2027-04-30"});
}

TEST_CASE("fixed dates: each report is due on the first of them after its quarter") {
    // read in a city's guidance: Apr 30, Jul 31, Oct 31, Jan 31.
    account_season season;
    season.setting("report_due_dates", "04-30; 07-31;10-31 ; 01-31");
    CHECK(due(season) == std::vector<std::string>{"2026-Q1 2026-04-30", "2026-Q2 2026-07-31", "2026-Q3 2026-10-31",
                                                  "2026-Q4 2027-01-31", "final 2027-04-30"});
}

TEST_CASE("a changed number of days holds from its day on; an annual report only where it is asked for") {
    account_season season;
    season.setting("report_due_days", "45", "2026-07-01").setting("annual_due_days", "90");
    CHECK(due(season) == std::vector<std::string>{"2026-Q1 2026-04-30", "2026-Q2 2026-07-30", "2026-Q3 2026-11-14",
                                                  "2026-Q4 2027-02-14", "annual 2026 2027-03-31", "final 2027-04-30"});
}

TEST_CASE("quarters of a program year that begins in July, and an award that is extended") {
    account_season season;
    season.of.the_award->quarter_starts = 7;
    season.of.the_award->ends = quantity::day_of("2026-06-30");
    CHECK(due(season).front() == "2025-Q3 2026-04-30");
    CHECK(due(season).back() == "final 2026-10-28");
    records::amendment extended;
    extended.entry = 90;
    extended.date = quantity::day_of("2026-06-01");
    extended.ends = quantity::day_of("2026-09-30");
    season.of.amendments.push_back(extended);
    CHECK(due(season).back() == "final 2027-01-28");
    CHECK(due(season).size() == 4);
    // As of a day before the extension nobody knew of it.
    CHECK(due(season, "2026-05-31").back() == "final 2026-10-28");
    CHECK(due(season, "2026-05-31").size() == 3);
}

TEST_CASE("records are kept three years after the final report is due, or as long as the setting says") {
    // read in 2 CFR 200.334; four years in some states.
    account_season season;
    CHECK(quantity::text_of(grant::records_kept_until(season.of, quantity::day_of(last_day))) == "2030-04-30");
    season.setting("records_kept_years", "4");
    CHECK(quantity::text_of(grant::records_kept_until(season.of, quantity::day_of(last_day))) == "2031-04-30");
    // February 29 has no like day three years on.
    account_season leap;
    leap.of.the_award->ends = quantity::day_of("2028-02-19");
    leap.setting("final_due_days", "10");
    CHECK(quantity::text_of(grant::records_kept_until(leap.of, quantity::day_of(last_day))) == "2031-02-28");
}

TEST_CASE("a closed quarter is known as filed") {
    account_season season;
    records::closing closing;
    closing.period = {2026, 2};
    season.of.closings.push_back(closing);
    const auto filed = [&](std::string_view name) {
        for (const auto& each : grant::reporting_calendar(season.of, quantity::day_of(last_day)))
            if (each.name == name) return each.filed != nullptr;
        return false;
    };
    CHECK(filed("2026-Q2"));
    CHECK_FALSE(filed("2026-Q1"));
    CHECK_FALSE(filed("final"));
    season.of.closings.front().period = {2026, 4}; // the last quarter's is not the final report
    CHECK_FALSE(filed("final"));
    season.of.closings.front().period = quantity::period::whole_award();
    CHECK(filed("final"));
}
