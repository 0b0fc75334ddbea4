#include "clerk.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;

namespace {

season_files with_a_reject() {
    return added(quiet_season(), "rejects.csv", "J1,2026-05-30,processor,,L2,5,lb,twine,landfilled\n");
}

} // namespace

TEST_CASE("a figure is traced to its rows, each with its place in the files, and they sum to it") {
    clerk at;
    at.take(with_a_reject());
    const auto whole = at.run({"trace", "diverted_weight", "--quarter", "2026-Q2", "--json"}).json();
    CHECK(whole["value"] == "255.000");
    CHECK(whole["unit"] == "lb");
    REQUIRE(whole["rows"].size() == 3);
    double sum = 0;
    std::vector<std::string> keys;
    for (const auto& row : whole["rows"]) {
        sum += std::stod(row["adds"].get<std::string>());
        keys.push_back(row["key"]);
    }
    CHECK(sum == 255.0);
    CHECK(keys == std::vector<std::string>{"J1", "T1", "T2"});
    CHECK(whole["rows"][0]["adds"] == "-5.000");
    CHECK(whole["rows"][1]["kind"] == "ticket");
    CHECK(whole["rows"][1]["date"] == "2026-05-22");
    CHECK(whole["rows"][1]["from"] == "tickets.csv:2");
}

TEST_CASE("a figure is traced as a table that begins with its value and meaning") {
    clerk at;
    at.take(with_a_reject());
    const auto text = at.must({"trace", "diverted_weight", "--quarter", "2026-Q2"});
    CHECK_THAT(
        text,
        StartsWith(
            "diverted_weight of 2026-Q2: 255.000 lb\nWeight diverted in the quarter, net of contamination.\n\nkind"));
    CHECK_THAT(text, Contains("tickets.csv:2") && Contains("-5.000") && Contains("gross=190 tare=40 net=150"));
}

TEST_CASE("an undefined figure is traced to its reason") {
    quiet_clerk at;
    CHECK_THAT(at.must({"trace", "cost_per_ton", "--quarter", "2026-Q3"}),
               StartsWith("cost_per_ton of 2026-Q3: undefined, since no tons were diverted"));
    const auto whole = at.run({"trace", "cost_per_ton", "--quarter", "2026-Q3", "--json"}).json();
    CHECK(whole["value"].is_null());
    CHECK(whole["reason"] == "no tons were diverted");
}

TEST_CASE("contact details are not shown by a trace") {
    clerk at;
    at.take(quiet_season());
    for (const auto* figure : {"growers_served", "received_bundles", "registered_bundles"})
        CHECK_THAT(at.must({"trace", figure, "--quarter", "2026-Q2"}), !Contains("Ruth Ames"));
}

TEST_CASE("a row is traced to the figures that it moves, and what it adds to each") {
    quiet_clerk at;
    const auto whole = at.run({"trace", "--record", "ticket", "--key", "T2", "--quarter", "2026-Q2", "--json"}).json();
    std::map<std::string, nlohmann::ordered_json> adds;
    for (const auto& each : whole["figures"])
        adds[each["figure"]] = each["adds"];
    CHECK(adds.at("bale_net_weight") == "110.000");
    CHECK(adds.at("bales_weighed") == "1");
    CHECK(adds.at("diverted_tons") == "110.000");
    CHECK(adds.at("weight_over_estimate").is_null());
    CHECK(adds.count("grant_spent") == 0);
    CHECK_THAT(at.must({"trace", "--record", "ticket", "--key", "T2", "--quarter", "2026-Q2"}),
               Contains("bale_net_weight") && Contains("260.000"));
    CHECK(at.must({"trace", "--record", "cost", "--key", "C1", "--quarter", "2026-Q1"}) ==
          "cost C1 moves no figure of 2026-Q1\n");
}

TEST_CASE("each row behind a figure is traced back to that figure") {
    clerk at;
    at.take(with_a_reject());
    for (const auto* figure :
         {"diverted_weight", "match_given", "on_hand_bundles", "shipped_tons", "baled_bundles", "growers_served"}) {
        const auto whole = at.run({"trace", figure, "--quarter", "2026-Q2", "--json"}).json();
        for (const auto& row : whole["rows"]) {
            const auto back =
                at.run({"trace", "--record", row["kind"], "--key", row["key"], "--quarter", "2026-Q2", "--json"})
                    .json();
            bool found = false;
            for (const auto& each : back["figures"])
                found =
                    found || (each["figure"] == figure && each["entry"] == row["entry"] && each["adds"] == row["adds"]);
            CAPTURE(figure, row.dump());
            CHECK(found);
        }
    }
}

TEST_CASE("a trace that names nothing there is says what would be right") {
    quiet_clerk at;
    const auto error = [&](const std::vector<std::string>& arguments) {
        const auto done = at.run(arguments);
        CHECK(done.code == cli::bad_input);
        return done.err;
    };
    CHECK_THAT(error({"trace", "tons", "--quarter", "2026-Q2"}),
               Contains("no figure is called 'tons'; see: tarewell quarter show 2026-Q2"));
    CHECK_THAT(error({"trace", "diverted_weight"}),
               Contains("--quarter is missing; name the quarter, such as --quarter 2026-Q3"));
    CHECK_THAT(error({"trace", "--quarter", "2026-Q2"}),
               Contains("name a figure, or a record with --record KIND --key KEY"));
    CHECK_THAT(error({"trace", "--record", "ticket", "--key", "T9", "--quarter", "2026-Q2"}),
               Contains("the ledger holds no ticket 'T9'"));
}

TEST_CASE("a trace as of an entry shows the rows that stood then") {
    quiet_clerk at;
    const auto before = fmt::format("{}", at.head());
    at.must({"void", "inkind", "I1", "--why", "entered twice"});
    CHECK(at.run({"trace", "match_given", "--quarter", "2026-Q2", "--json"}).json()["rows"].empty());
    CHECK(at.run({"trace", "match_given", "--quarter", "2026-Q2", "--json", "--as-of", before}).json()["rows"].size() ==
          1);
}
