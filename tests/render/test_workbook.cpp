#include "quiet_season.hpp"
#include "workbook_parts.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;

// That the formulas recompute to the figures is held by tests/render/check_workbook, with LibreOffice and openpyxl.

namespace {

/// The part of the sheet called `name`, found as a reader does: workbook.xml names the sheets in order.
std::string sheet_named(const workbook_parts& parts, const std::string& name) {
    const auto& book = parts.at("xl/workbook.xml");
    int number = 0;
    for (std::size_t at = 0; (at = book.find("<sheet name=\"", at)) != std::string::npos;) {
        ++number;
        at += 13;
        if (book.compare(at, name.size() + 1, name + "\"") == 0)
            return with_texts(parts, fmt::format("xl/worksheets/sheet{}.xml", number));
    }
    throw std::logic_error("no sheet " + name);
}

std::size_t count_of(const std::string& text, const std::string& what) {
    std::size_t count = 0;
    for (std::size_t at = 0; (at = text.find(what, at)) != std::string::npos; at += what.size())
        ++count;
    return count;
}

} // namespace

TEST_CASE("the quarter's workbook has a sheet for each table, a formula for each figure and the ledger's head") {
    const temporary_folder folder;
    const reckoned_season season{quiet_season()};
    write_workbook(season, {2026, 2}, folder.file("q.xlsx"));
    CHECK(files_in(folder) == 1);
    const auto parts = parts_of(folder.file("q.xlsx"));
    for (const auto* name :
         {"Summary", "All figures", "By site", "By grower", "Bales", "Tickets", "Rejects", "Costs", "In-kind", "Flags", "Method"})
        CHECK_NOTHROW(sheet_named(parts, name));
    const auto summary = sheet_named(parts, "All figures");
    CHECK(count_of(summary, "<f>") == figures::all_figure_names().size() - 3); // all but what the audit predicts
    CHECK_THAT(summary, Contains("<v>260</v>") && Contains("ySplit"));
    CHECK_THAT(parts.at("docProps/custom.xml"), Contains(std::string(64, 'a')));
    CHECK_THAT(parts.at("docProps/core.xml"), Contains("2026-07-10T08:00:00Z"));
    for (const auto& each : figures::all_figure_names())
        CHECK_THAT(parts.at("xl/workbook.xml"), Contains(fmt::format("<definedName name=\"{}\">", each.name)));
}

TEST_CASE("the same season and the same as-of give the same bytes") {
    const temporary_folder folder;
    reckoned_season season{quiet_season()};
    const auto as_of = season.head();
    write_workbook(season, {2026, 2}, folder.file("first.xlsx"));
    write_workbook(season, {2026, 2}, folder.file("again.xlsx"));
    CHECK(bytes_in(folder.file("first.xlsx")) == bytes_in(folder.file("again.xlsx")));
    const reckoned_season taken_in_anew{quiet_season()};
    write_workbook(taken_in_anew, {2026, 2}, folder.file("anew.xlsx"));
    CHECK(bytes_in(folder.file("first.xlsx")) == bytes_in(folder.file("anew.xlsx")));
    intake::void_record(season.file(), records::kind::cost, {"C1"}, "entered twice", season.around());
    season.read(season.head());
    write_workbook(season, {2026, 2}, folder.file("later.xlsx"));
    CHECK(bytes_in(folder.file("first.xlsx")) != bytes_in(folder.file("later.xlsx")));
    season.read(as_of);
    auto report = figures::figures_of(season.season(), season.reckoned(), {2026, 2}, as_of, false);
    figures::add_statistics(report, season.season(), season.reckoned());
    render::write_workbook(
        folder.file("back.xlsx"), shipped_layout(),
        {report, season.season(), season.reckoned(), {std::string(64, 'a'), "2026-07-10T08:00:00Z"}});
    CHECK(bytes_in(folder.file("first.xlsx")) == bytes_in(folder.file("back.xlsx")));
}

TEST_CASE("a workbook that is there already is replaced whole") {
    const temporary_folder folder;
    folder.write("q.xlsx", "an older file");
    write_workbook(reckoned_season{quiet_season()}, {2026, 2}, folder.file("q.xlsx"));
    CHECK_NOTHROW(parts_of(folder.file("q.xlsx")));
    CHECK(files_in(folder) == 1);
}

TEST_CASE("a text that begins like a formula is plain text in the workbook") {
    const temporary_folder folder;
    auto files = changed(quiet_season(), "sites.csv", "Old Creamery", "=HYPERLINK(1)");
    files = changed(files, "growers.csv", "Ib Orn", "+1+1");
    files = changed(files, "costs.csv", "sorting", "@SUM(A1)");
    files = changed(files, "inkind.csv", "hours,Ola", "hours,-2+3");
    files = changed(files, "award.csv", "Basin Agency", "{=1+1}");
    write_workbook(reckoned_season{files}, {2026, 2}, folder.file("q.xlsx"), true);
    std::string whole;
    for (const auto& [name, text] : parts_of(folder.file("q.xlsx")))
        if (name.starts_with("xl/")) whole += text;
    for (const auto* text : {"=HYPERLINK(1)", "+1+1", "@SUM(A1)", "-2+3", "{=1+1}"}) {
        CAPTURE(text);
        CHECK_THAT(whole, Contains(fmt::format("<t>{}</t>", text)));
        CHECK_THAT(whole, !Contains(fmt::format("<f>{}", text)));
        CHECK_THAT(whole, !Contains(fmt::format("<f>{}", text + 1)));
    }
}

TEST_CASE("texts with marks of XML and accents come through") {
    const temporary_folder folder;
    auto files = changed(quiet_season(), "sites.csv", "Old Creamery", "\"Søster & <Sons>, \"\"the yard\"\"\"");
    write_workbook(reckoned_season{files}, {2026, 2}, folder.file("q.xlsx"));
    CHECK_THAT(sheet_named(parts_of(folder.file("q.xlsx")), "By site"),
               Contains("<t>Søster &amp; &lt;Sons&gt;, \"the yard\"</t>"));
}

TEST_CASE("growers' names are in the workbook only where they are asked for") {
    const temporary_folder folder;
    const reckoned_season season{quiet_season()};
    for (const bool names : {false, true}) {
        write_workbook(season, {2026, 2}, folder.file("q.xlsx"), names);
        CHECK((sheet_named(parts_of(folder.file("q.xlsx")), "By grower").find("Ruth Ames") != std::string::npos) ==
              names);
    }
}

TEST_CASE("a quarter with nothing in it gives a whole workbook too") {
    const temporary_folder folder;
    auto files = quiet_season();
    for (const auto& [name, text] : files)
        if (name != "award.csv") files[name] = text.substr(0, text.find('\n') + 1);
    CHECK_NOTHROW(write_workbook(reckoned_season{files}, {2026, 2}, folder.file("q.xlsx")));
    CHECK(files_in(folder) == 1);
}
