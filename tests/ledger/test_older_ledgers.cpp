// Ledgers that earlier versions of the schema wrote: tests/golden/ledgers/schema_N.tarewell, kept as they were.
#include "desk/quarter.hpp"
#include "figures/closing.hpp"
#include "figures/soundness.hpp"
#include "intake/intake.hpp"
#include "support.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>

using namespace tarewell;
using namespace tarewell::tests;
using nlohmann::json;

namespace {

/// A copy, since opening brings it up to the newest schema.
std::string copy_of(const temporary_folder& to, const std::string& name) {
    const auto kept = source_path("tests/golden/ledgers/" + name);
    return to.write(name, bytes_in(kept));
}

} // namespace

TEST_CASE("a ledger of schema 2 opens, is sound, and says what it said") {
    // The quiet season, its second quarter closed as of entry 38, then ticket T1 corrected to 151 lb net.
    const temporary_folder folder;
    auto file = ledger::ledger_file::open(copy_of(folder, "schema_2.tarewell"));
    CHECK(file.head().seq == 40);
    CHECK(ledger::hex(file.head().hash) == "b5ae5c015184c2900f812efc560f1825826db92b59cc0fee537769599bdf760b");
    CHECK(figures::unsound_in(file).empty());
    const quantity::quarter quarter{2026, 2};
    CHECK(figures::as_of_period(file, quarter) == 38);
    const auto filed = figures::view_period(file, quarter, 38).report;
    CHECK(filed.basis.closed);
    CHECK(figures::text_of(filed.find("bale_net_weight")->value) == "260.000");
    const auto moved = figures::restate(file, quarter, file.head().seq);
    const auto net =
        std::find_if(moved.begin(), moved.end(), [](const auto& each) { return each.figure == "bale_net_weight"; });
    REQUIRE(net != moved.end());
    CHECK(figures::text_of(net->now) == "261.000");
}

TEST_CASE("a kept ledger opens, is sound, and gives the head and, but for what rules changed, every figure that its "
          "own program gave") {
    const temporary_folder folder;
    const auto name =
        GENERATE(as<std::string>{}, "schema_1", "schema_3"); // tests/golden/ledgers/make says what is in it
    CAPTURE(name);
    auto file = ledger::ledger_file::open(copy_of(folder, name + ".tarewell"));
    const auto said = json::parse(bytes_in(source_path("tests/golden/ledgers/" + name + ".json")));
    CHECK(ledger::hex(file.head().hash) == said["head"].get<std::string>());
    CHECK(file.head().seq == said["entry"].get<records::entry_no>());
    // Since it was filed, income by deduction lowers the grant's balance and the match required (2 CFR 1128.720(b)).
    const auto since = std::vector<std::string>{
        "the figures of 2026-Q2 worked out again differ from those filed: grant_left, match_required"};
    CHECK(figures::unsound_in(file) == (name == "schema_3" ? since : std::vector<std::string>{}));
    REQUIRE(said["figures"].size() == 4);
    for (const auto& [quarter_name, figures] : said["figures"].items()) {
        REQUIRE(figures.size() >= 40);
        const auto report = figures::view_period(file, *quantity::read_quarter(quarter_name),
                                                  figures["as_of"].get<records::entry_no>())
                                .report;
        for (const auto& [figure, value] : figures.items()) {
            if (figure == "as_of") continue;
            CAPTURE(quarter_name, figure);
            REQUIRE(report.find(figure) != nullptr);
            CHECK(json::parse(desk::value_of(report.find(figure)->value).json()) == value);
        }
    }
    if (name != "schema_1") // which had no closings
        CHECK_FALSE(figures::restate(file, {2026, 2}, file.head().seq).empty());
}

TEST_CASE("a ledger of schema 2 takes records of kinds that came later, and stays sound") {
    const temporary_folder folder;
    auto file = ledger::ledger_file::open(copy_of(folder, "schema_2.tarewell"));
    intake::record(file, records::kind::payment,
                   {{"payment", "PY1"}, {"date", "2026-07-01"}, {"kind", "advance"}, {"amount", "500"}},
                   standing_still());
    CHECK(file.head().seq == 41);
    CHECK(figures::unsound_in(file).empty());
    const auto now = figures::view_period(file, {2026, 3}, 41).report;
    CHECK(figures::text_of(now.find("line_10a")->value) == "500.00");
}

TEST_CASE("filed figures that a ledger no longer gives are found, whatever figures came later") {
    const temporary_folder folder;
    const auto path = copy_of(folder, "schema_2.tarewell");
    (void)ledger::ledger_file::open(path);
    auto bytes = bytes_in(path);
    // The filed text itself, bent: the chain says so, and so do the figures worked out again.
    const auto at = bytes.find("bale_net_weight=260.000");
    REQUIRE(at != std::string::npos);
    bytes.replace(at, 23, "bale_net_weight=260.100");
    folder.write("schema_2.tarewell", bytes);
    const auto found = figures::unsound_in(ledger::ledger_file::open(path));
    CHECK(std::count(found.begin(), found.end(),
                     "the figures of 2026-Q2 worked out again differ from those filed: bale_net_weight") == 1);
}
