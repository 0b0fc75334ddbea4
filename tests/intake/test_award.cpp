#include "ledger/load_season.hpp"
#include "base_season.hpp"
#include "records/season.hpp"

#include <catch2/catch.hpp>

using namespace tarewell::tests;
using namespace tarewell;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;
using records::kind;

namespace {

/// An award's file whose one row ends with these values: dates to counted_when.
std::string award_with(const std::string& begins, const std::string& ends, const std::string& rest) {
    return "award,agency,program,region,begins,ends,goal_tons,quarter_starts,unit,match_percent,match_base,"
           "indirect_percent,counted_when\nKB-26,Basin Agency,Kestrel Basin film,KB," +
           begins + "," + ends + "," + rest + "\n";
}

std::string refusal_of(const std::string& text) {
    base_season season;
    const auto lines = season.refusals(kind::award, text);
    return lines.size() == 1 ? lines[0].substr(0, lines[0].find(": ")) : fmt::format("{} lines", lines.size());
}

std::string correction_refused(base_season& season, const intake::named_values& changes) {
    const auto lines = season.refusals_of(
        [&] { intake::correct(season.ledger(), kind::award, {"KB-26"}, changes, "amended", season.around()); });
    return lines.empty() ? "" : lines[0];
}

} // namespace

TEST_CASE("an award's own rules are held") {
    CHECK(refusal_of(award_with("2026-01-01", "2026-12-31", "30,1,lb,,,,")) == "0 lines");
    CHECK(refusal_of(award_with("2026-01-01", "2025-12-31", "30,1,lb,,,,")) == "award.csv:2:ends");
    CHECK(refusal_of(award_with("2026-01-01", "2026-12-31", "30,13,lb,,,,")) == "award.csv:2:quarter_starts");
    CHECK(refusal_of(award_with("2026-01-01", "2026-12-31", "30,0,lb,,,,")) == "award.csv:2:quarter_starts");
    CHECK(refusal_of(award_with("2026-01-01", "2026-12-31", "30,1,st,,,,")) == "award.csv:2:unit");
    CHECK(refusal_of(award_with("2026-01-01", "2026-12-31", "-1,1,lb,,,,")) == "award.csv:2:goal_tons");
    CHECK(refusal_of(award_with("2026-01-01", "2026-12-31", "30,1,lb,20,,,")) == "award.csv:2:match_base");
    CHECK(refusal_of(award_with("2026-01-01", "2026-12-31", "30,1,lb,20,all,,")) == "award.csv:2:match_base");
    CHECK(refusal_of(award_with("2026-01-01", "2026-12-31", "30,1,lb,,,,paid")) == "award.csv:2:counted_when");
}

TEST_CASE("a match of the whole total would leave nothing for the grant and is refused") {
    // Base total: G p/(100 - p).
    CHECK(refusal_of(award_with("2026-01-01", "2026-12-31", "30,1,lb,100,total,,")) == "award.csv:2:match_percent");
    CHECK(refusal_of(award_with("2026-01-01", "2026-12-31", "30,1,lb,100.0,total,,")) == "award.csv:2:match_percent");
    CHECK(refusal_of(award_with("2026-01-01", "2026-12-31", "30,1,lb,99.9,total,,")) == "0 lines");
    CHECK(refusal_of(award_with("2026-01-01", "2026-12-31", "30,1,lb,100,grant,,")) == "0 lines");
}

TEST_CASE("a ledger holds one award") {
    base_season season;
    season.take_all();
    auto other = base_files().at("award.csv");
    other.replace(other.find("KB-26"), 5, "KB-27");
    const auto lines = season.refusals(kind::award, other);
    REQUIRE(lines.size() == 1);
    CHECK_THAT(lines[0], StartsWith("award.csv:2:award: the ledger already holds award 'KB-26'"));
}

TEST_CASE("what is counted in the award's terms waits for the award") {
    base_season season;
    const auto lines = season.refusals(kind::grower, base_files().at("growers.csv"));
    REQUIRE(lines.size() == 1);
    CHECK_THAT(lines[0], StartsWith("growers.csv:1:grower: the ledger has no award yet"));
    CHECK(season.take(kind::site, base_files().at("sites.csv")).taken == 2);
}

TEST_CASE("a refused award is told once, and the other files are checked for their form alone") {
    base_season season;
    season.folder().write("award.csv", award_with("2026-01-01", "2026-12-31", "30,1,st,,,,"));
    season.folder().write("costs.csv",
                          "cost,date,category,description,amount,fund\nC1,2026-05-03,travel,van,x,grant\n");
    const auto lines = season.season_refusals();
    REQUIRE(lines.size() == 2);
    CHECK_THAT(lines[0], StartsWith("award.csv:2:unit: "));
    CHECK_THAT(lines[1], StartsWith("costs.csv:2:amount: "));
}

TEST_CASE("an award is corrected where nothing speaks against it") {
    base_season season;
    season.take_all();
    CHECK(correction_refused(season, {{"goal_tons", "35"}, {"counted_when", "shipped"}}).empty());
    const auto loaded = ledger::load_season(season.ledger(), season.head());
    CHECK(loaded.the_award->goal_tons == quantity::decimal_of("35"));
    CHECK(loaded.the_award->counted_when == records::counting::shipped);
    CHECK(loaded.the_award->calendar().holding(quantity::day_of("2026-05-01")) == quantity::quarter{2026, 2});
}

TEST_CASE("an award's region cannot be corrected away from its growers") {
    base_season season;
    season.take_all();
    CHECK_THAT(correction_refused(season, {{"region", "XX"}}), Contains("region (grower G1)"));
}

TEST_CASE("an award's unit cannot be corrected once weights are counted in it") {
    base_season season;
    season.take_all();
    const auto before = season.head();
    CHECK_THAT(correction_refused(season, {{"unit", "kg"}}), StartsWith("--unit: "));
    CHECK(season.head() == before);
    base_season young;
    young.take(kind::award, base_files().at("award.csv"));
    CHECK(correction_refused(young, {{"unit", "kg"}}).empty());
}

TEST_CASE("an indirect percent cannot be set over cost rows of the indirect category") {
    base_season season;
    season.folder().write("award.csv", award_with("2026-01-01", "2026-12-31", "30,1,lb,,,,"));
    season.folder().write("costs.csv",
                          "cost,date,category,description,amount,fund\nC1,2026-05-03,indirect,rent,5,grant\n");
    season.take_all();
    CHECK_THAT(correction_refused(season, {{"indirect_percent", "10"}}), Contains("category (cost C1)"));
}

TEST_CASE("an award cannot be voided from under its records") {
    base_season season;
    season.take_all();
    const auto lines = season.refusals_of(
        [&] { intake::void_record(season.ledger(), kind::award, {"KB-26"}, "mistake", season.around()); });
    CHECK_FALSE(lines.empty());
    base_season young;
    young.take(kind::award, base_files().at("award.csv"));
    CHECK(intake::void_record(young.ledger(), kind::award, {"KB-26"}, "mistake", young.around()).entries.size() == 1);
}
