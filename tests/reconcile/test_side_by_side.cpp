#include "quiet_season.hpp"
#include "reconcile/side_by_side.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using namespace tarewell::reconcile;
using quantity::weight;

namespace {

const std::vector<grouping> by_bundle{grouping::grower, grouping::site, grouping::registration};

std::string text_of(const at_stage& stage) {
    return fmt::format("{} {}", stage.bundles, quantity::text_of(stage.estimate));
}

/// All numbers of a line as one text.
std::string text_of(const side_by_side& line) {
    return fmt::format("registered {}, received {}, rejected {}, baled {}, weighed {}, scale {}",
                       text_of(line.registered), text_of(line.received), text_of(line.rejected), text_of(line.baled),
                       text_of(line.weighed), quantity::text_of(line.scale_weight));
}

std::vector<std::string> lines_of(const reckoned_season& season, grouping by,
                                  std::optional<quantity::span_of_days> days = {}) {
    std::vector<std::string> lines;
    for (const auto& line : reconcile_by(by, season.season(), season.reckoned(), days))
        lines.push_back(line.id + ": " + text_of(line));
    return lines;
}

std::vector<quantity::span_of_days> quarters_of(const reckoned_season& season, int first_year, int last_year) {
    std::vector<quantity::span_of_days> days;
    for (int year = first_year; year <= last_year; ++year)
        for (int number = 1; number <= 4; ++number)
            days.push_back(season.season().the_award->calendar().days_of({year, number}));
    return days;
}

} // namespace

TEST_CASE("growers stand side by side from their estimates to the scale") {
    CHECK(lines_of(reckoned_season{quiet_season()}, grouping::grower) ==
          std::vector<std::string>{
              // computed: B1 54.546, B2 54.545 and B4 40.909 of L1's 150 lb; B3 62.857 and B5 47.143 of L2's 110 lb.
              "G1: registered 3 172.800, received 3 172.800, rejected 0 0.000, baled 3 172.800, weighed 3 172.800, "
              "scale 171.948",
              "G2: registered 2 86.400, received 2 86.400, rejected 0 0.000, baled 2 86.400, weighed 2 86.400, scale "
              "88.052"});
}

TEST_CASE("bales list their bundles with shares that sum to the net") {
    const reckoned_season season{added(quiet_season(), "tickets.csv", "T3,2026-05-15,P1,bundle,B3,,,60,lb,manual,\n")};
    const auto lines = reconcile_by(grouping::bale, season.season(), season.reckoned());
    REQUIRE(lines.size() == 2);
    CHECK(lines[1].id == "L2");
    CHECK(lines[1].name == "Nursery lot");
    CHECK(lines[1].difference() == weight{9'200});
    CHECK(lines[1].ratio() == Approx(110 / 100.8).epsilon(1e-15));
    CHECK(quantity::text_of(*lines[1].weighed_on) == "2026-05-22");
    REQUIRE(lines[1].parts.size() == 2);
    CHECK(lines[1].parts[0].spot == weight{60'000});
    CHECK(lines[1].parts[0].share == weight{60'000});
    CHECK_FALSE(lines[1].parts[1].spot);
    CHECK(lines[1].parts[1].share == weight{50'000});
}

TEST_CASE("a bundle stands at the site where it was accepted, and is registered where it was to go") {
    const reckoned_season season{changed(quiet_season(), "receipts.csv", "RC5,2026-05-14,S1", "RC5,2026-05-14,S2")};
    const auto lines = lines_of(season, grouping::site);
    REQUIRE(lines.size() == 2);
    CHECK(lines[0] == "S1: registered 5 259.200, received 4 216.000, rejected 0 0.000, baled 4 216.000, weighed 4 "
                      "216.000, scale 212.857");
    CHECK(
        lines[1] ==
        "S2: registered 0 0.000, received 1 43.200, rejected 0 0.000, baled 1 43.200, weighed 1 43.200, scale 47.143");
}

TEST_CASE("a line with nothing weighed has no ratio") {
    auto files = quiet_season();
    files["tickets.csv"] = "ticket,date,scale,weighs,subject,net,unit,entry\n";
    const reckoned_season season{files};
    for (const auto& line : reconcile_by(grouping::bale, season.season(), season.reckoned())) {
        CHECK_FALSE(line.ratio());
        CHECK_FALSE(line.weighed_on);
        CHECK(line.weighed.bundles == 0);
        for (const auto& part : line.parts)
            CHECK_FALSE(part.share);
    }
}

TEST_CASE("days keep of each stage what is dated in them") {
    const reckoned_season season{changed(changed(quiet_season(), "tickets.csv", "T2,2026-05-22", "T2,2026-07-02"),
                                         "covers.csv", "R2,2026-05-02", "R2,2026-03-31")};
    const auto calendar = season.season().the_award->calendar();
    CHECK(lines_of(season, grouping::registration, calendar.days_of({2026, 1})) ==
          std::vector<std::string>{"R2: registered 2 86.400, received 0 0.000, rejected 0 0.000, baled 0 0.000, "
                                   "weighed 0 0.000, scale 0.000"});
    CHECK(
        lines_of(season, grouping::registration, calendar.days_of({2026, 3})) ==
        std::vector<std::string>{
            "R1: registered 0 0.000, received 0 0.000, rejected 0 0.000, baled 0 0.000, weighed 1 57.600, scale 62.857",
            "R2: registered 0 0.000, received 0 0.000, rejected 0 0.000, baled 0 0.000, weighed 1 43.200, scale "
            "47.143"});
    // A bale's line stands in the quarter of its pressing and in that of its weighing.
    CHECK(lines_of(season, grouping::bale, calendar.days_of({2026, 2})).size() == 2);
    CHECK(lines_of(season, grouping::bale, calendar.days_of({2026, 3})).size() == 1);
    CHECK(lines_of(season, grouping::bale, calendar.days_of({2026, 4})).empty());
}

TEST_CASE("every grouping of every kept season has the same total") {
    for (const auto& folder : kept_seasons()) {
        CAPTURE(folder);
        const reckoned_season season{folder};
        const auto total = [&](grouping by) {
            return text_of(total_of(reconcile_by(by, season.season(), season.reckoned())));
        };
        const auto growers = total(grouping::grower);
        CHECK(growers.find("registered 0") == std::string::npos);
        for (const auto by : by_bundle)
            CHECK(total(by) == growers);
    }
}

TEST_CASE("the scale weights of all growers sum to the bales' nets, to the last thousandth") {
    for (const auto& folder : kept_seasons()) {
        CAPTURE(folder);
        const reckoned_season season{folder};
        weight nets;
        for (const auto& bale : season.reckoned().bales)
            if (bale.weighed && !bale.inside.empty()) nets += bale.weighed->net;
        CHECK(nets > weight{});
        for (const auto by : by_bundle)
            CHECK(total_of(reconcile_by(by, season.season(), season.reckoned())).scale_weight == nets);
        for (const auto& line : reconcile_by(grouping::bale, season.season(), season.reckoned())) {
            if (!line.weighed_on || line.parts.empty()) continue;
            weight shares;
            for (const auto& part : line.parts)
                shares += part.share.value();
            CHECK(shares == line.scale_weight);
        }
    }
}

TEST_CASE("the quarters of a season sum to the whole of it, in every grouping") {
    for (const auto& folder : kept_seasons()) {
        CAPTURE(folder);
        const reckoned_season season{folder};
        for (const auto by : by_bundle) {
            std::vector<side_by_side> of_quarters;
            for (const auto days : quarters_of(season, 2024, 2029))
                of_quarters.push_back(total_of(reconcile_by(by, season.season(), season.reckoned(), days)));
            CHECK(text_of(total_of(of_quarters)) ==
                  text_of(total_of(reconcile_by(by, season.season(), season.reckoned()))));
        }
    }
}

TEST_CASE("a grouping is read by its name alone") {
    for (const auto by : {grouping::bale, grouping::grower, grouping::site, grouping::registration})
        CHECK(read_grouping(name_of(by)) == by);
    for (const auto* text : {"", "bales", "Bale", "haul"})
        CHECK_FALSE(read_grouping(text));
}
