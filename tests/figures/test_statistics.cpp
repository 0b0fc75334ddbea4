#include "ledger/load_season.hpp"
#include "closed_basin.hpp"
#include "figures/second_sums.hpp"
#include "quiet_season.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;

namespace {

const char* const names[] = {"on_hand_expected", "on_hand_low", "on_hand_high"};

/// Files in which a bale was never weighed.
season_files without_ticket(const season_files& files, const std::string& row) {
    return changed(files, "tickets.csv", row, "");
}
const std::string first_ticket = "T1,2026-05-22,P1,bale,L1,190,40,150,lb,printed,\n";
const std::string second_ticket = "T2,2026-05-22,P1,bale,L2,150,40,110,lb,printed,\n";

std::string reason_of(const season_files& files) {
    const auto report = reckoned_season{files}.all_figures({2026, 2});
    std::string reason;
    for (const auto* name : names) {
        const auto* figure = report.find(name);
        CHECK(std::holds_alternative<std::monostate>(figure->value));
        reason = figure->reason;
    }
    return reason;
}

} // namespace

TEST_CASE("what is on hand is expected to weigh 0 where nothing is on hand") {
    for (const quantity::quarter quarter : {quantity::quarter{2026, 1}, {2026, 2}}) {
        const auto report = reckoned_season{quiet_season()}.all_figures(quarter);
        for (const auto* name : names) {
            CHECK(report.find(name)->value == figures::value{quantity::weight{}});
            CHECK(report.find(name)->rows == 0);
        }
    }
}

TEST_CASE(
    "where no bale was weighed, or one alone, what is on hand can't be expected to weigh anything, and that is said") {
    const auto one_weighed = without_ticket(quiet_season(), first_ticket);
    CHECK_THAT(reason_of(one_weighed), Contains("One weighing is not enough"));
    CHECK(reason_of(without_ticket(one_weighed, second_ticket)) == "no bale was weighed by the quarter's last day");
}

TEST_CASE("what is on hand has an interval around what is expected, and its receipts as evidence") {
    const reckoned_season season{"sample_data/season"};
    const auto report = season.all_figures({2026, 3});
    const auto in = [&](const char* name) { return std::get<quantity::weight>(report.find(name)->value); };
    CHECK(in("on_hand_low") < in("on_hand_expected"));
    CHECK(in("on_hand_expected") < in("on_hand_high"));
    const auto bundles = std::get<std::int64_t>(report.find("on_hand_bundles")->value);
    REQUIRE(bundles > 0);
    for (const auto* name : names) {
        const auto rows = season.evidence(report, name);
        CHECK(rows.size() == static_cast<std::size_t>(bundles));
        for (const auto& row : rows) {
            CHECK(row.which == ledger::kind::receipt);
            CHECK_FALSE(row.adds.has_value());
        }
        CHECK(report.find(name)->unit == "lb");
    }
}

TEST_CASE("a season of too many bundles leaves what is on hand to the audit, and says where") {
    const reckoned_season season{"sample_data/season"};
    auto report = season.figures({2026, 3});
    figures::add_statistics(report, season.season(), season.reckoned(), {10});
    CHECK(report.find("on_hand_expected")->reason == "more than 10 bundles; see tarewell audit total --to 2026-09-30");
    CHECK(std::holds_alternative<std::monostate>(report.find("on_hand_low")->value));
    auto mixed = season.figures({2026, 3});
    figures::add_statistics(mixed, season.season(), season.reckoned(), {1000, 1.0});
    CHECK(mixed.find("on_hand_high")->reason ==
          "so many growers mixed take long to fit; see tarewell audit total --to 2026-09-30");
}

TEST_CASE("statistics are neither filed nor restated, and have no second sum") {
    closed_basin basin;
    basin.close();
    const auto season = ledger::load_season(basin.ledger(), basin.head());
    CHECK_THAT(season.closing_of(closed_basin::spring)->figures,
               !Contains("on_hand_expected") && Contains("line_10o="));
    basin.take_out(ledger::kind::ticket, {"T1"});
    const auto moved = names_in(basin.restated());
    CHECK(moved.contains("bale_net_weight"));
    for (const auto* name : names)
        CHECK_FALSE(moved.contains(name));

    const reckoned_season sample{"sample_data/season"};
    const auto report = sample.all_figures({2026, 3});
    const auto tables = figures::evidence_tables(sample.season(), sample.reckoned(), report.basis, false);
    const auto sums = figures::second_sums(report, tables, sample.season(), sample.reckoned());
    CHECK(sums.back().name == "on_hand_high");
    CHECK(sums.back().result == figures::tie::no_second);
    CHECK(sums.back().second == figures::value{});
    CHECK_THAT(sums.back().way, Contains("from the audit's model"));
}
