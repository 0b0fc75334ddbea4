#include "closed_basin.hpp"
#include "ledger/load_season.hpp"
#include "figures/flags.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;
using records::kind;

namespace {

/// The base season (goal 30 tons, 20 percent of the total, 10 percent indirect, ends 2026-12-31) with amendments made
/// short.
struct amended_basin : closed_basin {
    static constexpr quantity::quarter next_winter{2027, 1};
    records::entry_no amend(const std::string& id, const std::string& date, intake::named_values changes) {
        changes["amendment"] = id;
        changes["date"] = date;
        changes["description"] = "agreed with the agency";
        return record(kind::amendment, changes).at(0);
    }
    void rebudget(const std::string& amendment, const std::string& category, const std::string& grant) {
        record(kind::rebudget, {{"amendment", amendment}, {"category", category}, {"grant", grant}, {"match", "0"}});
    }
    std::string refusal(const std::string& date, const intake::named_values& changes) {
        const auto before = head();
        const auto lines = refusals_of([&] { amend("A9", date, changes); });
        CHECK(head() == before);
        return lines.size() == 1 ? lines[0] : fmt::format("{} lines", lines.size());
    }
    std::vector<std::string> outside() {
        const auto season = load_season(ledger(), head());
        std::vector<std::string> found;
        for (const auto& flag : figures::flags_of(season, reconcile::reckon(season)))
            if (flag.code == "outside-award") found.push_back(flag.subject);
        return found;
    }
};

} // namespace

TEST_CASE("an amended goal holds from its date on, and earlier quarters keep the goal that they had") {
    amended_basin basin;
    const auto before = basin.figure("goal_share");
    CHECK(before == "0.00175"); // 105 lb, 0.0525 tons
    basin.amend("A1", "2026-08-15", {{"goal_tons", "42"}});
    CHECK(basin.figure("goal_share") == before);
    CHECK(basin.figure("goal_share", basin.summer) == "0.00125");
    CHECK(basin.figure("goal_share", basin.autumn) == "0.00125");
    basin.amend("A2", "2026-10-01", {{"goal_tons", "21"}});
    CHECK(basin.figure("goal_share", basin.summer) == "0.00125");
    CHECK(basin.figure("goal_share", basin.autumn) == "0.0025");
}

TEST_CASE("an amendment dated on a quarter's last day counts for it, and one a day later does not") {
    amended_basin basin;
    basin.amend("A1", "2026-06-30", {{"goal_tons", "15"}});
    basin.amend("A2", "2026-07-01", {{"goal_tons", "10"}});
    CHECK(basin.figure("goal_share") == "0.0035");
    CHECK(basin.figure("goal_share", basin.summer) == "0.00525");
}

TEST_CASE("each percent of indirect costs holds for what its own days add to the base") {
    amended_basin basin;
    basin.cost("C2", "2026-08-14", "200.00");
    basin.cost("C3", "2026-08-15", "300.00");
    basin.cost("C4", "2026-09-01", "50.05");
    CHECK(basin.figure("indirect_to_date", basin.summer) == "65.06"); // 10 % of 650.55, half up
    basin.amend("A1", "2026-08-15", {{"indirect_percent", "12"}});
    CHECK(basin.figure("indirect_to_date") == "10.05"); // 10 % of 100.50
    // 10 % of 300.50 = 30.05; 12 % of 350.05 = 42.006; rounded once.
    CHECK(basin.figure("indirect_to_date", basin.summer) == "72.06");
    CHECK(basin.figure("indirect_claimed", basin.summer) == "62.01");
    // A third percent in the quarter after: 8.5 % of 100 more = 8.50.
    basin.amend("A2", "2026-10-01", {{"indirect_percent", "8.5"}});
    basin.cost("C5", "2026-10-01", "100.00");
    CHECK(basin.figure("indirect_to_date", basin.summer) == "72.06");
    CHECK(basin.figure("indirect_to_date", basin.autumn) == "80.56"); // 72.056 + 8.50
    CHECK(basin.figure("indirect_claimed", basin.autumn) == "8.50");
}

TEST_CASE("an amended match percent and base hold for the match required from their date on") {
    amended_basin basin;
    // Grant 100.50 + 10.05 = 110.55; 20 % of the total is 110.55 x 20/80 = 27.6375.
    CHECK(basin.figure("match_required") == "27.64");
    basin.amend("A1", "2026-07-01", {{"match_percent", "25"}});
    CHECK(basin.figure("match_required") == "27.64");
    CHECK(basin.figure("match_required", basin.summer) == "36.85"); // 110.55 x 25/75
    basin.amend("A2", "2026-10-01", {{"match_base", "grant"}});
    CHECK(basin.figure("match_required", basin.summer) == "36.85");
    CHECK(basin.figure("match_required", basin.autumn) == "27.64"); // 110.55 x 25/100 = 27.6375
}

TEST_CASE("an amended budget holds from its date on, line by line") {
    amended_basin basin;
    // 5900 + 100 on the grant, less 110.55.
    CHECK(basin.figure("grant_left") == "5889.45");
    basin.amend("A1", "2026-07-01", {});
    basin.rebudget("A1", "travel", "400.00");
    basin.rebudget("A1", "supplies", "50.00");
    CHECK(basin.figure("grant_left") == "5889.45");
    CHECK(basin.figure("grant_left", basin.summer) == "6239.45"); // 5900 + 400 + 50 - 110.55
    basin.amend("A2", "2026-11-01", {});
    basin.rebudget("A2", "travel", "0");
    CHECK(basin.figure("grant_left", basin.summer) == "6239.45");
    CHECK(basin.figure("grant_left", basin.autumn) == "5839.45");
    CHECK_THAT(basin.refusals_of([&] { basin.rebudget("A7", "travel", "1"); }).at(0), Contains("A7"));
}

TEST_CASE("an extension lets later dates in, and what was outside before it stays flagged only outside") {
    amended_basin basin;
    basin.cost("C7", "2027-02-01", "10.00");
    basin.cost("C8", "2027-06-01", "10.00");
    CHECK(basin.outside() == std::vector<std::string>{"C7", "C8"});
    basin.amend("A1", "2026-11-15", {{"ends", "2027-03-31"}});
    CHECK(basin.outside() == std::vector<std::string>{"C8"});
    // Signed too late: on the cost's day the extension was not yet in force.
    basin.correct(kind::amendment, {"A1"}, {{"date", "2027-02-02"}});
    CHECK(basin.outside() == std::vector<std::string>{"C7", "C8"});
}

TEST_CASE("a closed quarter stays as filed under an amendment dated into it, which then is what restates it") {
    amended_basin basin;
    basin.close();
    const auto entry = basin.amend("A1", "2026-05-01", {{"goal_tons", "15"}, {"match_percent", "25"}});
    const auto moved = basin.restated();
    CHECK(names_in(moved) == std::set<std::string>{"goal_share", "match_required", "line_10i", "line_10k"});
    CHECK_THAT(said(moved, "match_required"), StartsWith("27.64 -> 36.85 (9.21) by " + std::to_string(entry)));
    CHECK(find(moved, "match_required")->exactly);
    CHECK(find(moved, "goal_share")->exactly);
}

TEST_CASE("correcting the award changes what it always said, and amending it what it says from a day on") {
    amended_basin basin;
    basin.close();
    basin.amend("A1", "2026-07-01", {{"goal_tons", "42"}});
    CHECK(basin.restated().empty());
    CHECK(basin.figure("goal_share") == "0.00175");
    const auto by = basin.correct(kind::award, {"KB-26"}, {{"goal_tons", "35"}});
    CHECK(basin.figure("goal_share") == "0.0015");
    CHECK(basin.figure("goal_share", basin.summer) == "0.00125"); // still as amended
    CHECK(said(basin.restated(), "goal_share").ends_with(fmt::format("by {}, own rows", by.at(0))));
    const auto terms = load_season(basin.ledger(), basin.head());
    CHECK(terms.terms_on(quantity::day_of("2026-06-30")).goal_tons == quantity::decimal_of("35"));
    CHECK(terms.terms_on(quantity::day_of("2026-07-01")).goal_tons == quantity::decimal_of("42"));
}

TEST_CASE("an amendment can be corrected and voided like any record") {
    amended_basin basin;
    basin.amend("A1", "2026-07-01", {{"goal_tons", "42"}});
    basin.correct(kind::amendment, {"A1"}, {{"goal_tons", "40"}});
    CHECK(basin.figure("goal_share", basin.summer) == "0.0013125");
    basin.rebudget("A1", "travel", "400.00");
    CHECK_THAT(basin.refusals_of([&] { basin.take_out(kind::amendment, {"A1"}); }).at(0), Contains("rebudget"));
    basin.take_out(kind::rebudget, {"A1", "travel"});
    basin.take_out(kind::amendment, {"A1"});
    CHECK(basin.figure("goal_share", basin.summer) == "0.00175");
    CHECK(basin.figure("grant_left", basin.summer) == "5889.45");
}

TEST_CASE("an amendment that leaves terms no figure can be worked out by is refused") {
    amended_basin basin;
    CHECK_THAT(basin.refusal("2026-07-01", {{"match_percent", "100"}}),
               StartsWith("match_percent") || StartsWith("--match_percent"));
    CHECK_THAT(basin.refusal("2026-07-01", {{"match_percent", "250"}, {"match_base", "total"}}),
               Contains("leaves nothing for the grant"));
    CHECK_THAT(basin.refusal("2026-07-01", {{"ends", "2025-12-31"}}), Contains("is before the award begins"));
    basin.amend("A1", "2026-09-01", {{"match_percent", "120"}, {"match_base", "grant"}});
    // A later-dated amendment builds on it: on the total nothing would be left.
    CHECK_THAT(basin.refusal("2026-10-01", {{"match_base", "total"}}), Contains("leaves nothing for the grant"));
    // And what another stands on cannot be voided under it.
    basin.amend("A2", "2026-10-01", {{"match_percent", "130"}});
    CHECK_THAT(basin.refusals_of([&] { basin.take_out(kind::amendment, {"A1"}); }).at(0),
               Contains("leaves nothing for the grant"));
    CHECK(basin.figure("match_required", basin.summer) == "132.66"); // 110.55 x 120/100
    CHECK(basin.figure("match_required", basin.autumn) == "143.72"); // 110.55 x 130/100 = 143.715
}

TEST_CASE("a match percent amended into an award without one needs a base") {
    base_season season;
    season.take(kind::award, "award,agency,program,region,begins,ends,goal_tons,quarter_starts,unit\n"
                             "KB-26,Basin Agency,Kestrel Basin film,KB,2026-01-01,2026-12-31,30,1,lb\n");
    const auto lines =
        season.refusals(kind::amendment, "amendment,date,match_percent,description\nA1,2026-07-01,20,agreed\n");
    REQUIRE(lines.size() == 1);
    CHECK_THAT(lines[0], StartsWith("amendments.csv:2:match_base: "));
    CHECK(season
              .take(kind::amendment,
                    "amendment,date,match_percent,match_base,description\nA1,2026-07-01,20,total,agreed\n")
              .taken == 1);
}
