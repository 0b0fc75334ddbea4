#include "quiet_season.hpp"
#include "figures/flags.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;

namespace {

season_files with_costs(std::string_view rows) {
    auto files = quiet_season();
    files["costs.csv"] = "cost,date,category,description,amount,fund,subaward\n" + std::string{rows};
    return files;
}

std::string figure(const season_files& files, const char* name, quantity::quarter quarter = {2026, 2}) {
    return text_of(reckoned_season{files}.figures(quarter), name);
}

} // namespace

TEST_CASE("a quarter claims what its last day claims above the day before it began") {
    // computed: 10 % of 0.05 is 0.005, half up 0.01 by March; of 0.10 it is 0.01 by June: the second quarter claims
    // nothing.
    const auto files = with_costs("C1,2026-03-31,travel,tolls,0.05,grant,\nC2,2026-04-01,travel,tolls,0.05,grant,\n");
    CHECK(figure(files, "indirect_claimed", {2026, 1}) == "0.01");
    CHECK(figure(files, "indirect_claimed", {2026, 2}) == "0.00");
    CHECK(figure(files, "indirect_to_date", {2026, 2}) == "0.01");
}

TEST_CASE("a credit in a later quarter takes indirect back") {
    const auto files =
        with_costs("C1,2026-03-31,travel,van,1000,grant,\nC2,2026-04-01,travel,van returned,-400,grant,\n");
    CHECK(figure(files, "grant_spent", {2026, 2}) == "-400.00");
    CHECK(figure(files, "indirect_claimed", {2026, 2}) == "-40.00");
    CHECK(figure(files, "indirect_to_date", {2026, 2}) == "60.00");
    CHECK(figure(files, "grant_left", {2026, 2}) == "5340.00"); // 6,000 budgeted less 600 less 60
}

TEST_CASE("the match required goes with direct and indirect to date") {
    // computed: G = 8,000 + 800; of the total 8,800 x 20/80, of the grant 8,800 x 20/100.
    const auto files = with_costs("C1,2026-03-31,travel,van,8000,grant,\n");
    CHECK(figure(files, "match_required") == "2200.00");
    CHECK(figure(changed(files, "award.csv", "20,total", "20,grant"), "match_required") == "1760.00");
    CHECK(figure(changed(files, "award.csv", "20,total", ","), "match_required") == "0.00");
}

TEST_CASE("an indirect cost of an award without a percent is in no figure, and flagged") {
    const auto without =
        changed(with_costs("C1,2026-05-03,travel,van,100,grant,\nC2,2026-05-03,indirect,overhead,50,grant,\n"),
                "award.csv", ",10,\n", ",,\n");
    const reckoned_season season{without};
    const auto report = season.figures({2026, 2});
    CHECK(text_of(report, "grant_spent") == "100.00");
    CHECK(text_of(report, "indirect_claimed") == "0.00");
    CHECK(text_of(report, "grant_left") == "5900.00");
    CHECK(text_of(report, "match_required") == "25.00");
    auto flags = figures::flags_of(season.season(), season.reckoned());
    std::erase_if(flags, [](const auto& each) { return each.code != "indirect-not-counted"; });
    REQUIRE(flags.size() == 1);
    CHECK(flags[0].subject == "C2");
}

TEST_CASE("costs count by the day on which they were incurred, not paid") {
    auto files = quiet_season();
    files["costs.csv"] =
        "cost,date,category,description,amount,fund,paid_on\nC1,2026-06-30,travel,van,100,grant,2026-08-01\n";
    CHECK(figure(files, "grant_spent", {2026, 2}) == "100.00");
    CHECK(figure(files, "grant_spent", {2026, 3}) == "0.00");
    CHECK(figure(files, "grant_spent_to_date", {2026, 3}) == "100.00");
}
