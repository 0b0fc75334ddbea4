#include "base_season.hpp"
#include "terminal.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;

namespace {

struct outputs {
    std::string json, workbook, page, tie_out;
};

outputs outputs_of(const sample_desk& desk, const std::string& quarter) {
    outputs made;
    made.json = desk.done({"quarter", "show", quarter, "--json"});
    (void)desk.done({"quarter", "workbook", quarter, desk.file("q.xlsx")});
    (void)desk.done({"quarter", "page", quarter, desk.file("q.html")});
    (void)desk.done({"report", "auditor_tieout", quarter, desk.file("t.html")});
    made.workbook = bytes_in(desk.file("q.xlsx"));
    made.page = bytes_in(desk.file("q.html"));
    made.tie_out = bytes_in(desk.file("t.html"));
    return made;
}

void check_same(const outputs& filed, const outputs& again) {
    CHECK(again.json == filed.json);
    CHECK(again.workbook == filed.workbook);
    CHECK(again.page == filed.page);
    CHECK(again.tie_out == filed.tie_out);
}

} // namespace

TEST_CASE("a closed quarter's outputs stay byte for byte the same whatever comes after") {
    const sample_desk desk;
    REQUIRE(desk.close("2026-Q2").code == cli::done);
    const auto filed = outputs_of(desk, "2026-Q2");
    REQUIRE(filed.workbook.size() > 10'000);
    const auto as_it_stands = [&] {
        const auto head = ledger::ledger_file::open(desk.ledger()).head().seq;
        const auto shown = desk.done({"quarter", "show", "2026-Q2", "--json", "--as-of", std::to_string(head)});
        return shown.substr(shown.find("\"figures\""));
    };
    const auto before = as_it_stands();
    const std::vector<std::vector<std::string>> later{
        {"correct", "ticket", "T0001", "--gross", "45.8", "--net", "44.6", "--why", "misread"},
        {"correct", "cover", "R001", "1", "--length_ft", "96", "--why", "measured again"},
        {"correct", "award", "KB-26-014", "--goal_tons", "14", "--program", "Renamed", "--why", "typing"},
        {"correct", "site", "S01", "--name", "Renamed yard", "--why", "renamed"},
        {"correct", "grower", "G001", "--name", "Hesper Quillan-Roe", "--why", "married"},
        {"void", "reject", "J001", "--why", "entered twice"},
        {"void", "inkind", "K001", "--why", "entered twice"},
        {"record", "cost", "--cost", "CX", "--date", "2026-05-05", "--category", "travel", "--description", "late bill",
         "--amount", "12.50", "--fund", "grant"},
        {"record", "grower", "--grower", "GX", "--name", "Late Comer", "--region", "KB"},
        {"settings", "set", "area_weight_lb_per_ft2", "0.05", "--from", "2026-01-01"},
        {"record", "amendment", "--amendment", "A1", "--date", "2026-05-01", "--goal_tons", "20", "--indirect_percent",
         "12", "--description", "scope grew"},
        {"growers", "erase", "G002", "--why", "asked by the grower"},
        {"document", "attach", "ticket", "T0001", source_path("LICENSE")}};
    for (const auto& command : later) {
        CAPTURE(command);
        const auto said = desk.tell(command);
        CAPTURE(said.err);
        REQUIRE(said.code == cli::done);
        check_same(filed, outputs_of(desk, "2026-Q2"));
    }
    // The quarter as it stands now did change.
    CHECK(as_it_stands() != before);
    CHECK(desk.tell({"quarter", "restate", "2026-Q2"}).code == cli::findings);
    // The next quarter says what was restated, and once closed it stays as it is, too.
    REQUIRE(desk.close("2026-Q3").code == cli::done);
    const auto summer = outputs_of(desk, "2026-Q3");
    CHECK_THAT(summer.page, Contains("Restated since filing"));
    (void)desk.done({"void", "cost", "CX", "--why", "not ours"});
    (void)desk.done({"growers", "erase", "G001", "--why", "asked by the grower"});
    check_same(summer, outputs_of(desk, "2026-Q3"));
    check_same(filed, outputs_of(desk, "2026-Q2"));
}

TEST_CASE("a closed quarter's outputs name growers by id, unless names are asked for") {
    const sample_desk desk;
    REQUIRE(desk.close("2026-Q2").code == cli::done);
    const auto filed = outputs_of(desk, "2026-Q2");
    CHECK(filed.page.find("G002") != std::string::npos);
    CHECK(filed.page.find("Marchbanks") == std::string::npos);
    CHECK(filed.page.find("example.org") == std::string::npos);
    (void)desk.done({"quarter", "page", "2026-Q2", desk.file("named.html"), "--names"});
    CHECK_THAT(bytes_in(desk.file("named.html")), Contains("Tobin Marchbanks") && !Contains("example.org"));
    (void)desk.done({"growers", "erase", "G002", "--why", "asked by the grower"});
    (void)desk.done({"quarter", "page", "2026-Q2", desk.file("named.html"), "--names"});
    CHECK_THAT(bytes_in(desk.file("named.html")), !Contains("Marchbanks"));
    CHECK(desk.done({"quarter", "page", "2026-Q2", desk.file("again.html")}).find("Marchbanks") == std::string::npos);
    CHECK(bytes_in(desk.file("again.html")) == filed.page);
}
