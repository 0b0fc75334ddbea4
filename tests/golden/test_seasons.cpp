#include "desk/quarter.hpp"
#include "figures/figure.hpp"
#include "intake/intake.hpp"
#include "ledger/load_season.hpp"
#include "reconcile/reckoning.hpp"
#include "records/season.hpp"
#include "support.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using nlohmann::json;

// Each folder of seasons/ holds an invented season and, in expected.json, its figures by quarter as an
// independent program works them out (tests/oracle, in another language and on exact fractions).

namespace {

std::string season_folder(const std::string& name) { return source_path("tests/golden/seasons/" + name); }

/// Numbers are equal as doubles, all else as it stands.
bool equal(const json& worked_out, const json& expected) {
    if (worked_out.is_number() && expected.is_number()) return worked_out.get<double>() == expected.get<double>();
    return worked_out == expected;
}

/// "2026-Q2 diverted_tons: 1.5, expected 1.25" for each figure that differs or is missing.
std::vector<std::string> differences(const figures::report& report, const json& expected) {
    std::vector<std::string> found;
    const auto quarter = quantity::text_of(report.basis.period);
    for (const auto& [name, value] : expected.items()) {
        const auto* figure = report.find(name);
        if (figure == nullptr) {
            found.push_back(quarter + " " + name + " is missing");
            continue;
        }
        const json worked_out = json::parse(desk::value_of(figure->value).json());
        if (!equal(worked_out, value))
            found.push_back(quarter + " " + name + ": " + worked_out.dump() + ", expected " + value.dump());
        if (worked_out.is_null() && figure->reason.empty())
            found.push_back(quarter + " " + name + " is undefined without a reason");
    }
    return found;
}

} // namespace

TEST_CASE("each golden season gives exactly its expected figures") {
    const auto name =
        GENERATE(as<std::string>{}, "plain", "shipped_indirect", "accepted_grant_match", "kilograms_july");
    CAPTURE(name);
    const temporary_folder folder;
    auto file = ledger::ledger_file::create(folder.file("basin.tarewell"));
    intake::take_season(file, season_folder(name), standing_still());
    const auto head = file.head().seq;
    const auto season = ledger::load_season(file, head);
    const auto reckoning = reconcile::reckon(season);
    const auto expected = json::parse(bytes_in(season_folder(name) + "/expected.json"));
    REQUIRE(expected.size() >= 4);
    for (const auto& [quarter, figures] : expected.items()) {
        REQUIRE(figures.size() >= 40);
        const auto report = figures::figures_of(season, reckoning, *quantity::read_quarter(quarter), head, false);
        CHECK(differences(report, figures) == std::vector<std::string>{});
    }
}
