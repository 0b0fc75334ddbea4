#include "clerk.hpp"
#include "records/settings.hpp"

#include <catch2/catch.hpp>

#include <set>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;

namespace {

std::string figure(clerk& at, const char* name, const char* quarter) {
    const auto whole = at.run({"quarter", "show", quarter, "--json"}).json();
    for (const auto& each : whole["figures"])
        if (each["name"] == name)
            return each["value"].is_string() ? each["value"].get<std::string>() : each["value"].dump();
    return "no such figure";
}

} // namespace

TEST_CASE("a setting from a day changes the estimates of registrations from that day on only") {
    clerk at;
    // R1 of 2026-05-01 (96 x 30 ft) and R2 of 2026-05-02 (48 x 30 ft).
    at.take(quiet_season());
    CHECK(figure(at, "registered_estimate", "2026-Q2") == "259.200");
    at.must({"settings", "set", "area_weight_lb_per_ft2", "0.03", "--from", "2026-05-02"});
    CHECK(figure(at, "registered_estimate", "2026-Q2") == "237.600"); // computed: 172.8 + 2,160 x 0.03
    at.must({"settings", "set", "area_weight_lb_per_ft2", "0.05", "--from", "2026-05-03"});
    CHECK(figure(at, "registered_estimate", "2026-Q2") == "237.600");
    at.must({"settings", "set", "curvature_factor", "1.25"});
    CHECK(figure(at, "registered_estimate", "2026-Q2") == "198.000"); // computed: 3,600 x 0.04 + 1,800 x 0.03
}

TEST_CASE("a setting that is set anew for the same day replaces the one before") {
    quiet_clerk at;
    at.must({"settings", "set", "curvature_factor", "1.6", "--from", "2026-05-01"});
    CHECK_THAT(at.must({"settings", "set", "curvature_factor", "1.75", "--from", "2026-05-01", "--why", "measured"}),
               Contains("set by entry"));
    CHECK(figure(at, "registered_estimate", "2026-Q2") == "302.400"); // computed: 4,320 ft2 floor x 1.75 x 0.04
    const auto head = at.head();
    CHECK_THAT(at.must({"settings", "set", "curvature_factor", "1.75", "--from", "2026-05-01"}),
               Contains("nothing was changed"));
    CHECK(at.head() == head);
}

TEST_CASE("settings are listed with their defaults, days and meanings") {
    quiet_clerk at;
    at.must({"settings", "set", "subaward_limit", "25000"});
    at.must({"settings", "set", "subaward_limit", "50000", "--from", "2026-06-01"});
    std::vector<std::string> limits;
    std::set<std::string> names;
    for (const auto& each : at.run({"settings", "--json"}).json()) {
        names.insert(each["setting"]);
        CHECK_FALSE(each["meaning"].get<std::string>().empty());
        if (each["setting"] == "subaward_limit")
            limits.push_back(each["from"].get<std::string>() + " " + each["value"].get<std::string>());
    }
    CHECK(limits == std::vector<std::string>{"(default) 50000", "always 25000", "2026-06-01 50000"});
    CHECK(names.size() == records::all_settings().size());
    CHECK_THAT(at.must({"settings"}), Contains("subaward_limit") && Contains("2 CFR 200.1"));
}

TEST_CASE("a setting that is not known, or a value that it cannot have, is refused") {
    quiet_clerk at;
    const auto head = at.head();
    const auto refused = [&](const std::vector<std::string>& arguments) {
        const auto done = at.run(arguments);
        CHECK(done.code == cli::bad_input);
        CHECK(done.out.empty());
        return done.err;
    };
    CHECK_THAT(refused({"settings", "set", "colour", "red"}), Contains("--setting: ") && Contains("colour"));
    CHECK_THAT(refused({"settings", "set", "curvature_factor", "0"}), Contains("--value: "));
    CHECK_THAT(refused({"settings", "set", "curvature_factor", "1,5"}), Contains("--value: "));
    CHECK_THAT(refused({"settings", "set", "subaward_limit", "0.005"}), Contains("--value: "));
    CHECK_THAT(refused({"settings", "set", "curvature_factor", "1.6", "--from", "2026-13-01"}), Contains("--from: "));
    CHECK(at.run({"settings", "set", "curvature_factor"}).code == cli::usage);
    CHECK(at.head() == head);
}
