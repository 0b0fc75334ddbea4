#include "quiet_season.hpp"

#include <catch2/catch.hpp>

#include <set>

using namespace tarewell;
using namespace tarewell::tests;

namespace {

/// The names of undefined figures; each must carry a reason, and no other figure one.
std::set<std::string> undefined(const figures::report& report) {
    std::set<std::string> names;
    for (const auto& figure : report.figures) {
        const bool none = std::holds_alternative<std::monostate>(figure.value);
        CAPTURE(figure.name);
        CHECK(none == !figure.reason.empty());
        if (none) names.insert(figure.name);
    }
    return names;
}

} // namespace

TEST_CASE("in a quarter in which nothing was done the ratios are undefined, each with its reason") {
    const reckoned_season season{quiet_season()};
    CHECK(undefined(season.figures({2026, 1})) ==
          std::set<std::string>{"weight_over_estimate", "rejected_share", "residue_share", "cost_per_ton",
                                "grant_cost_per_ton", "cost_per_ton_to_date", "grant_cost_per_ton_to_date",
                                "projected_tons", "tipping_avoided"});
    // After the season, what is to date is there.
    CHECK(undefined(season.figures({2026, 3})) == std::set<std::string>{"weight_over_estimate", "rejected_share",
                                                                        "residue_share", "cost_per_ton",
                                                                        "grant_cost_per_ton", "tipping_avoided"});
    CHECK(undefined(season.figures({2026, 2})) == std::set<std::string>{"tipping_avoided"});
    const reckoned_season with_fee{added(quiet_season(), "settings.csv", "tipping_fee_per_ton,,60\n")};
    CHECK(undefined(with_fee.figures({2026, 2})).empty());
}

TEST_CASE("the reasons say what was not there") {
    const auto report = reckoned_season{quiet_season()}.figures({2026, 1});
    CHECK(report.find("rejected_share")->reason == "no bundle was received or rejected in the quarter");
    CHECK(report.find("residue_share")->reason == "no bale was weighed in the quarter");
    CHECK(report.find("weight_over_estimate")->reason == "no estimate stands behind the bales weighed in the quarter");
    CHECK(report.find("cost_per_ton")->reason == "no tons were diverted");
}

TEST_CASE("the share of a goal of 0 tons is undefined") {
    const auto report =
        reckoned_season{changed(quiet_season(), "award.csv", "31,30,1,lb", "31,0,1,lb")}.figures({2026, 2});
    CHECK(undefined(report) == std::set<std::string>{"goal_share", "tipping_avoided"});
    CHECK(report.find("goal_share")->reason == "the award's goal is 0 tons");
}

TEST_CASE("where more was rejected than weighed in the quarter no cost per ton is given, and the weight is below 0") {
    auto files = changed(quiet_season(), "rejects.csv", "disposition\n",
                         "disposition\nJ1,2026-07-01,processor,,L2,110,lb,twine,\n");
    const auto report = reckoned_season{files}.figures({2026, 3});
    CHECK(text_of(report, "diverted_weight") == "-110.000");
    CHECK(std::get<figures::real>(report.find("diverted_tons")->value) == -0.055);
    CHECK(undefined(report).count("cost_per_ton") == 1);
    CHECK(undefined(report).count("cost_per_ton_to_date") == 0);
}

TEST_CASE("bales whose bundles claim nothing have no weight over estimate") {
    auto files = quiet_season();
    files["bundles.csv"] = "bundle,registration,number,of,estimate,unit\n"
                           "B1,R1,1,3,0,lb\nB2,R1,2,3,0,lb\nB3,R1,3,3,0,lb\nB4,R2,1,2,0,lb\nB5,R2,2,2,0,lb\n";
    CHECK(undefined(reckoned_season{files}.figures({2026, 2})) ==
          std::set<std::string>{"weight_over_estimate", "projected_tons", "tipping_avoided"});
}

TEST_CASE("a ledger without an award has no figures, and says what to take in") {
    CHECK(message_of<records::input_error>([] {
              figures::figures_of(records::season{}, {}, {2026, 2}, 0, false);
          }) == "the ledger has no award yet; take in award.csv first");
}

TEST_CASE("the figures stand in their order, each once and with a sentence of its own") {
    const auto report = reckoned_season{quiet_season()}.all_figures({2026, 2});
    const auto names = figures::all_figure_names();
    REQUIRE(report.figures.size() == names.size());
    std::set<std::string> meanings;
    for (std::size_t i = 0; i < names.size(); ++i) {
        CHECK(report.figures[i].name == names[i].name);
        CHECK(report.figures[i].meaning == names[i].meaning);
        meanings.insert(report.figures[i].meaning);
    }
    CHECK(meanings.size() == names.size());
    CHECK(report.find("no_such_figure") == nullptr);
}
