#include "desk/quarter.hpp"
#include "quiet_season.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using json = nlohmann::ordered_json;
using strings = std::vector<std::string>;

namespace {

strings names_in(const json& object) {
    strings names;
    for (const auto& [name, value] : object.items())
        names.push_back(name);
    return names;
}

json shown(const season_files& files, quantity::quarter quarter = {2026, 2}) {
    return json::parse(desk::figures_for_machines(reckoned_season{files}.all_figures(quarter)).json());
}

const json& figure(const json& whole, const std::string& name) {
    for (const auto& each : whole["figures"])
        if (each["name"] == name) return each;
    throw std::logic_error("no figure " + name);
}

} // namespace

TEST_CASE("a quarter's JSON has its parts in the promised order") {
    const auto whole = shown(quiet_season());
    CHECK(names_in(whole) == strings{"quarter", "from", "to", "as_of", "closed", "figures"});
    CHECK(whole["quarter"] == "2026-Q2");
    CHECK(whole["from"] == "2026-04-01");
    CHECK(whole["to"] == "2026-06-30");
    CHECK(whole["as_of"].is_number_integer());
    CHECK(whole["closed"] == false);
    CHECK(whole["figures"].size() == figures::all_figure_names().size());
}

TEST_CASE("a program year that begins in July names its third quarter by the year in which it began") {
    const auto whole = shown(changed(quiet_season(), "award.csv", "31,30,1,lb", "31,30,7,lb"), {2026, 3});
    CHECK(whole["quarter"] == "2026-Q3");
    CHECK(whole["from"] == "2027-01-01");
    CHECK(whole["to"] == "2027-03-31");
}

TEST_CASE("a figure has name, value, unit and the count of its rows, and a reason only where it is undefined") {
    const auto whole = shown(quiet_season(), {2026, 3});
    for (const auto& each : whole["figures"]) {
        CAPTURE(each.dump());
        const bool undefined = each["value"].is_null();
        CHECK(names_in(each) == (undefined ? strings{"name", "value", "unit", "evidence", "reason"}
                                           : strings{"name", "value", "unit", "evidence"}));
        CHECK(each["evidence"].is_number_unsigned());
    }
    CHECK(figure(whole, "cost_per_ton")["value"].is_null());
    CHECK(figure(whole, "cost_per_ton")["reason"] == "no tons were diverted");
}

TEST_CASE("weights and money are decimal strings, counts and ratios are numbers") {
    const auto whole = shown(quiet_season());
    CHECK(figure(whole, "bale_net_weight")["value"] == "260.000");
    CHECK(figure(whole, "bale_net_weight")["unit"] == "lb");
    CHECK(figure(whole, "bale_net_weight")["evidence"] == 2);
    CHECK(figure(whole, "grant_spent")["value"] == "100.50");
    CHECK(figure(whole, "grant_spent")["unit"] == "$");
    CHECK(figure(whole, "registered_bundles")["value"] == 5);
    CHECK(figure(whole, "diverted_tons")["value"] == 0.13);
    CHECK(figure(whole, "weight_over_estimate")["value"].get<double>() == 260.0 / 259.2);
    CHECK(figure(whole, "cost_per_ton")["unit"] == "$/ton");
}

TEST_CASE("reals are written so that reading them gives the same double") {
    const figures::value third{1.0 / 3};
    CHECK(json::parse(desk::value_of(third).json()).get<double>() == 1.0 / 3);
    CHECK(desk::value_of(figures::value{}).is_null());
    CHECK(desk::value_of(figures::value{quantity::money{-5}}).json() == "\"-0.05\"");
    CHECK(desk::value_of(figures::value{quantity::weight{-110'000}}).json() == "\"-110.000\"");
}
