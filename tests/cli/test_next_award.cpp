#include "clerk.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;

namespace {

/// The quiet season with a third grower who was erased, a fourth who is G1 again, a setting and a map.
class old_and_next : public quiet_clerk {
  public:
    old_and_next() {
        must({"record", "grower", "--grower", "G3", "--name", "Wren Ashdown", "--region", "KB"});
        must({"record", "grower", "--grower", "G4", "--name", "R. Ames", "--region", "KB"});
        must({"growers", "merge", "G1", "G4", "--why", "one person"});
        must({"growers", "erase", "G3", "--why", "asked for"});
        must({"settings", "set", "bundle_aim_lb", "45", "--from", "2026-07-01", "--why", "a new cart"});
        must({"record", "map", "--map", "form", "--rule", "dates", "--value", "mdy"});
    }
    [[nodiscard]] std::string next() const { return folder().file("next.tarewell"); }
    answered begin(std::vector<std::string> more) {
        more.insert(more.begin(), {"new", next(), "--from", ledger_path()});
        return run(more);
    }
    answered begin() { return begin({"--award", "KB-27", "--begins", "2027-01-01", "--ends", "2027-12-31"}); }
    std::string in_next(std::vector<std::string> arguments) {
        arguments.insert(arguments.begin(), {"--ledger", next()});
        return must(arguments);
    }
};

} // namespace

TEST_CASE("the next award begins with sites, scales, growers, settings and maps of the one before", "[next]") {
    old_and_next at;
    const auto told = at.begin();
    CHECK(told.err.empty());
    REQUIRE(told.code == cli::done);
    CHECK_THAT(told.out, Contains("with 3 sites, 1 scale, 2 growers, 1 setting, 1 map") &&
                             Contains("left out: 1 grower whose details were erased") &&
                             Contains("left out: 1 id that counted as another"));
    CHECK_THAT(at.in_next({"list", "award"}), Contains("KB-27") && Contains("Basin Agency") && Contains("2027-12-31"));
    const auto growers = at.in_next({"list", "growers"});
    CHECK_THAT(growers, Contains("Ruth Ames") && Contains("Ib Orn"));
    CHECK_THAT(growers, !Contains("Ashdown") && !Contains("G4"));
    CHECK_THAT(at.in_next({"list", "settings"}), Contains("bundle_aim_lb") && Contains("2027-01-01") && Contains("45"));
    CHECK_THAT(at.in_next({"list", "maps"}), Contains("mdy"));
    CHECK(at.in_next({"list", "tickets", "--json"}) == "[]\n");
    const auto fingerprint = at.run({"ledger", "head", "--json"}).json()["head"].get<std::string>();
    CHECK_THAT(at.in_next({"ledger", "history", "award", "KB-27"}),
               Contains("from basin.tarewell, award KB-26, as of entry") && Contains(fingerprint));
    at.in_next({"ledger", "check"});
}

TEST_CASE("the next award's terms are those told, and growers stay behind where they are not wanted", "[next]") {
    old_and_next at;
    REQUIRE(at.begin({"--award", "KB-27", "--begins", "2027-01-01", "--ends", "2027-12-31", "--goal_tons", "12.5",
                      "--without", "growers", "--without", "maps"})
                .code == cli::done);
    CHECK_THAT(at.in_next({"list", "award"}), Contains("12.5"));
    CHECK(at.in_next({"list", "growers", "--json"}) == "[]\n");
    CHECK(at.in_next({"list", "maps", "--json"}) == "[]\n");
}

TEST_CASE("the next award has the terms of the last amendment by its day, not of the one entered last", "[next]") {
    old_and_next at;
    for (const auto& [id, day, goal] : {std::tuple{"A2", "2026-09-01", "40"}, std::tuple{"A1", "2026-03-01", "35"}})
        at.must(
            {"record", "amendment", "--amendment", id, "--date", day, "--goal_tons", goal, "--description", "goal"});
    REQUIRE(at.begin().code == cli::done);
    CHECK(nlohmann::json::parse(at.in_next({"list", "award", "--json"}))[0]["goal_tons"] == "40");
}

TEST_CASE("a next award that cannot be made leaves no file", "[next]") {
    old_and_next at;
    const auto left = [&] {
        std::size_t files = 0;
        for (const auto& each : std::filesystem::directory_iterator{at.folder().path()})
            if (each.path().filename().string().starts_with("next")) ++files;
        return files;
    };
    CHECK_THAT(at.begin({"--award", "KB-27", "--begins", "2027-01-01"}).err, Contains("give --ends"));
    CHECK_THAT(at.begin({"--award", "KB-26", "--begins", "2027-01-01", "--ends", "2027-12-31"}).err,
               Contains("KB-26 is the older award"));
    CHECK(at.begin({"--award", "KB-27", "--begins", "2027-13-01", "--ends", "2027-12-31"}).code == cli::bad_input);
    // Growers of another region than the award's are refused.
    CHECK(at.begin({"--award", "KB-27", "--begins", "2027-01-01", "--ends", "2027-12-31", "--region", "XX"}).code ==
          cli::bad_input);
    CHECK(left() == 0);
    REQUIRE(at.begin().code == cli::done);
    CHECK_THAT(at.begin().err, Contains("is there already"));
    CHECK(at.run({"new", at.folder().file("x.tarewell"), "--award", "KB-27"}).code == cli::usage);
}

TEST_CASE("a grower's history tells what was claimed and weighed, over ledgers where they are named", "[next]") {
    old_and_next at;
    REQUIRE(at.begin().code == cli::done);
    const auto told = at.run({"growers", "history", "Ruth Ames", "--json"}).json();
    // B1, B2 and B3 claim 57.600 lb each. L1 (150 lb) is shared by estimate, 57.6 of 158.4: 54.545 each; L2 (110 lb)
    // gives B3 57.6 of 100.8: 62.857 (computed; the odd units go by largest remainder).
    REQUIRE(told["seasons"].size() == 1);
    const auto& here = told["seasons"][0];
    CHECK(here["registrations"] == 1);
    CHECK(here["bundles"] == 3);
    CHECK(here["accepted"] == 3);
    CHECK(here["claimed"] == "172.800");
    CHECK(here["weighed_bundles"] == 3);
    const auto share = std::stod(here["scale_share"].get<std::string>());
    CHECK(share == Approx(2 * 150 * 57.6 / 158.4 + 110 * 57.6 / 100.8).margin(0.002));
    CHECK(here["ratio"].get<double>() == Approx(share / 172.8));
    at.environment["TAREWELL_LEDGER"] = at.next();
    const auto both = at.run({"growers", "history", "G1", "--also", at.ledger_path(), "--json"}).json();
    REQUIRE(both["seasons"].size() == 2);
    CHECK(both["seasons"][0]["bundles"] == 0);
    CHECK(both["seasons"][0]["ratio"].is_null());
    CHECK(both["seasons"][1] == here);
    at.must({"record", "grower", "--grower", "G3", "--name", "Wren Ashdown", "--region", "KB"});
    const auto erased = at.run({"growers", "history", "G3", "--also", at.ledger_path(), "--json"}).json();
    CHECK(erased["seasons"][1]["note"] == "the details of this id were erased there on request");
    at.must({"record", "grower", "--grower", "G9", "--name", "Somebody Else", "--region", "KB"});
    const auto none = at.run({"growers", "history", "G9", "--also", at.ledger_path(), "--json"}).json();
    CHECK(none["seasons"][1]["note"] == "not there");
}
