#include "account_season.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;

namespace {

std::string base_of(const account_season& season, const char* day = last_day) {
    return quantity::text_of(grant::indirect_base_through(season.of, quantity::day_of(day)));
}
std::string indirect_of(const account_season& season, const char* day = last_day) {
    return quantity::text_of(grant::indirect_through(season.of, quantity::day_of(day)));
}

std::vector<reconcile::evidence_row> rows_of(const account_season& season) {
    std::vector<reconcile::evidence_row> rows;
    grant::see_indirect_rows(season.of, quantity::day_of(last_day), [&](const auto& row) { rows.push_back(row); });
    return rows;
}

/// Direct costs of 500,000 of which 200,000 went to one subaward.
account_season half_a_million() {
    return account_season{}.percent("10").spend("contractual", 300'000'00).spend("contractual", 200'000'00, "clinic");
}

} // namespace

TEST_CASE("each subaward counts in the indirect base up to the limit in force at its first cost") {
    // read in a secondary source: a published example for 2 CFR 200.1: 500,000 - 200,000 + 25,000 = 325,000, with the
    // limit of $25,000 that held before 2024-10-01.
    CHECK(base_of(half_a_million().setting("subaward_limit", "25000")) == "325000.00");
    CHECK(base_of(half_a_million()) == "350000.00"); // read in 2 CFR 200.1 (2024): $50,000
}

TEST_CASE("the de minimis rate was 10 % and may be 15 %") {
    // read in 2 CFR 200.414(f), 89 FR 30136.
    const auto old_limit = half_a_million().setting("subaward_limit", "25000");
    CHECK(indirect_of(old_limit) == "32500.00");
    CHECK(indirect_of(account_season{old_limit}.percent("15")) == "48750.00");
    CHECK(indirect_of(half_a_million().percent("15")) == "52500.00");
}

TEST_CASE("a subaward keeps the limit that was in force at its first cost") {
    // read in 2 CFR 200.1 (2024): "up to the first $50,000 of each subaward (regardless of the period of performance)".
    const auto season = account_season{}
                            .setting("subaward_limit", "25000")
                            .setting("subaward_limit", "50000", "2026-05-01")
                            .spend("contractual", 60'000'00, "new", "2026-05-01")
                            .spend("contractual", 60'000'00, "old", "2026-06-01")
                            .spend("contractual", 10'00, "old", "2026-04-30");
    CHECK(base_of(season, "2026-04-30") == "10.00");
    CHECK(base_of(season, "2026-05-31") == "50010.00");
    CHECK(base_of(season, "2026-06-01") == "75000.00"); // 50,000 of new and 25,000 of old
}

TEST_CASE("what its row says is out of the base is, and construction unless its row says in") {
    // read in 2 CFR 200.1 (2024): modified total direct cost "excludes equipment, capital expenditures, charges for
    // patient care, rental costs, tuition remission, scholarships and fellowships, participant support costs".
    const auto season = account_season{}
                            .spend("other", 1'00)
                            .spend("other", 10'00)
                            .base(false)
                            .spend("construction", 100'00)
                            .spend("construction", 1'000'00)
                            .base(true)
                            .spend("equipment", 10'000'00)
                            .base(true);
    CHECK(base_of(season) == "1001.00");
    CHECK(season.direct() == "11111.00");
}

TEST_CASE("a credit takes indirect costs back at the percent of its own period, and never below 0") {
    const auto season = [](std::int64_t credit, const char* day) {
        return account_season{}
            .percent("10")
            .amend("20", "2026-07-01")
            .spend("travel", 1'000'00)
            .spend("travel", -credit, "", day);
    };
    CHECK(indirect_of(season(300'00, "2026-06-30")) == "70.00");
    CHECK(indirect_of(season(300'00, "2026-07-01")) == "40.00"); // computed: 1,000 x 10 % - 300 x 20 %
    CHECK(indirect_of(season(900'00, "2026-07-01")) == "0.00");
}

TEST_CASE("what passes the limit is taken off once in each subaward, not in all of them together") {
    const auto season = account_season{}
                            .spend("contractual", 40'000'00, "A")
                            .spend("contractual", 20'000'00, "A")
                            .spend("other", 45'000'00, "B");
    CHECK(base_of(season) == "95000.00"); // 50,000 of A and all of B
}

TEST_CASE("equipment is outside the base, in a subaward or out of it") {
    // read in 2 CFR 200.1 (2024): modified total direct cost leaves out equipment.
    const auto season = account_season{}
                            .spend("equipment", 80'000'00)
                            .spend("supplies", 1'000'00)
                            .spend("equipment", 60'000'00, "A")
                            .spend("other", 50'000'00, "A");
    CHECK(base_of(season) == "51000.00");
    CHECK(season.direct() == "191000.00");
}

TEST_CASE("costs on match and costs after the day are outside the base") {
    auto season =
        account_season{}.spend("supplies", 100'00).match("supplies", 900'00).spend("travel", 50'00, "", "2026-07-01");
    CHECK(base_of(season, "2026-06-30") == "100.00");
    CHECK(base_of(season, "2026-07-01") == "150.00");
}

TEST_CASE("a credit lowers the base, within its subaward too") {
    CHECK(base_of(account_season{}.spend("supplies", 100'00).spend("supplies", -30'00)) == "70.00");
    CHECK(base_of(account_season{}.spend("other", 60'000'00, "A").spend("other", -20'000'00, "A")) == "40000.00");
    CHECK(base_of(account_season{}.spend("other", 60'000'00, "A").spend("other", -5'000'00, "A")) == "50000.00");
}

TEST_CASE("the base is never below 0, and neither is the claim") {
    const auto season = account_season{}.percent("10").spend("supplies", 10'00).spend("supplies", -30'00);
    CHECK(base_of(season) == "0.00");
    CHECK(indirect_of(season) == "0.00");
    CHECK(season.direct() == "-20.00");
}

TEST_CASE("the claim is rounded half up to the cent, once, on the whole base") {
    const auto claim = [](const char* percent, std::int64_t cents) {
        return indirect_of(account_season{}.percent(percent).spend("travel", cents));
    };
    CHECK(claim("10", 4) == "0.00");   // computed: 0.4 cents
    CHECK(claim("10", 5) == "0.01");   // 0.5 cents
    CHECK(claim("15", 3) == "0.00");   // 0.45 cents
    CHECK(claim("12.5", 4) == "0.01"); // 0.5 cents
    CHECK(claim("12.499999999", 4) == "0.00");
    CHECK(claim("33.33", 100'01) == "33.33"); // 33.333...
    const auto two = account_season{}.percent("10").spend("travel", 3).spend("travel", 2);
    CHECK(indirect_of(two) == "0.01"); // 0.3 and 0.2 cents are not rounded one by one
}

TEST_CASE("line 11 has a row for each rate: its days, what it added to the base, and what was charged") {
    // read in the Treasury's help for SF-425, line 11: "the beginning and ending effective dates for the rate(s)", "the
    // amount of the base against which the rate(s) was applied", "Multiply Rate by Base".
    const auto season = account_season{}
                            .percent("10")
                            .amend("12.5", "2026-07-01")
                            .spend("travel", 1'000'05)
                            .spend("equipment", 9'000'00)
                            .spend("travel", 400'00, "", "2026-08-01");
    const auto periods = grant::indirect_periods(season.of, quantity::day_of("2026-09-30"));
    REQUIRE(periods.size() == 2);
    const auto told = [](const grant::indirect_period& each) {
        return fmt::format("{} {} {} {} {}", quantity::text_of(each.days.from), quantity::text_of(each.days.to),
                           quantity::shortest_text(each.percent), quantity::text_of(each.base),
                           quantity::text_of(each.charged));
    };
    CHECK(told(periods[0]) == "2026-01-01 2026-06-30 10 1000.05 100.01");
    CHECK(told(periods[1]) == "2026-07-01 2026-09-30 12.5 400.00 50.00"); // in all 150.005, half up 150.01
    CHECK(quantity::text_of(periods[0].charged + periods[1].charged) == indirect_of(season, "2026-09-30"));
    CHECK(grant::indirect_periods(season.of, quantity::day_of("2026-06-30")).size() == 1);
    CHECK(grant::indirect_periods(account_season{}.spend("travel", 100'00).of, quantity::day_of(last_day)).empty());
}

TEST_CASE("without a percent nothing is claimed and no row stands behind it") {
    const auto season = account_season{}.spend("travel", 100'00);
    CHECK(indirect_of(season) == "0.00");
    CHECK(rows_of(season).empty());
    CHECK(base_of(season) == "100.00");
}

TEST_CASE("behind a claim stand the costs of its base and the award") {
    const auto season =
        account_season{}.percent("10").spend("travel", 100'00).spend("equipment", 5'00).match("travel", 7'00);
    const auto rows = rows_of(season);
    REQUIRE(rows.size() == 2);
    CHECK(rows[0].which == records::kind::cost);
    CHECK(rows[0].entry == season.of.costs[0].entry);
    CHECK(rows[1].which == records::kind::award);
    for (const auto& row : rows)
        CHECK_FALSE(row.adds);
}

TEST_CASE("an indirect cost on the grant is in no figure and no base, on match it is match") {
    const auto season = account_season{}.spend("indirect", 500'00).spend("travel", 100'00).match("indirect", 70'00);
    CHECK(season.direct() == "100.00");
    CHECK(base_of(season) == "100.00");
    CHECK(season.match_given() == "70.00");
}
