#include "render/forms.hpp"
#include "render/layout_check.hpp"
#include "render/layout_names.hpp"
#include "support.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using lines = std::vector<std::string>;

namespace {

const std::string heading = "says = \"One.\"\ntitle = \"{{award.program}}\"\n"; // two lines

lines faults_of(const std::string& text) { return render::layout_faults({"mine.layout.toml", text}); }

/// A layout of one sheet whose lines begin with line 3.
lines sheet_faults(const std::string& text) { return faults_of(heading + text); }

} // namespace

TEST_CASE("a layout with known names has no fault") {
    CHECK(sheet_faults("[[sheet]]\nname = \"Bales\"\nkind = \"table\"\ntable = \"bales\"\nin_quarter = \"weighed_on\"\n"
                       "columns = [\"bale\", { column = \"net\", label = \"Weight\" }]\n"
                       "[[sheet.chart]]\nkind = \"column\"\ntitle = \"T\"\nalt = \"A\"\ncategories = \"bale\"\n"
                       "series = [\"net\"]\n")
              .empty());
    CHECK(sheet_faults("[[sheet]]\nname = \"Figures\"\nkind = \"figures\"\n[[sheet.group]]\nheading = \"All\"\n"
                       "figures = [\"diverted_tons\", \"grant_*\", \"*\"]\n")
              .empty());
}

TEST_CASE("unknown names of figures, tables and columns are refused with their line and the nearest") {
    CHECK(sheet_faults("[[sheet]]\nname = \"F\"\nkind = \"figures\"\n[[sheet.group]]\nheading = \"H\"\n"
                       "figures = [\n\"diverted_tons\",\n\"diverted_tuns\",\n]\n") ==
          lines{"mine.layout.toml:10:diverted_tuns: there is no such figure; the nearest is diverted_tons"});
    CHECK(sheet_faults("[[sheet]]\nname = \"B\"\nkind = \"table\"\ntable = \"bale\"\n") ==
          lines{"mine.layout.toml:6:bale: there is no such table; the nearest is bales"});
    CHECK(sheet_faults(
              "[[sheet]]\nname = \"B\"\nkind = \"table\"\ntable = \"bales\"\ncolumns = [\"bale\", \"nett\"]\n") ==
          lines{"mine.layout.toml:7:nett: the table bales has no such column; the nearest is net"});
    CHECK(sheet_faults("[[sheet]]\nname = \"B\"\nkind = \"table\"\ntable = \"bales\"\nin_quarter = \"net\"\n")
              .front()
              .find("mine.layout.toml:7:net: the column holds no dates; dates are in made_on") == 0);
    CHECK(faults_of("says = \"One.\"\ntitle = \"{{award.progam}}\"\n[[sheet]]\nname = \"M\"\nkind = \"method\"\n") ==
          lines{"mine.layout.toml:2:award.progam: there is no such name for a text; the nearest is award.program"});
}

TEST_CASE("unknown keys and kinds are refused with their line") {
    CHECK(
        sheet_faults("[[sheet]]\nname = \"B\"\nkind = \"tabel\"\n") ==
        lines{
            "mine.layout.toml:5:kind: there is no kind 'tabel'; the nearest is table; there are figures, table, flags, "
            "tie_out, terms, subawards, method, text, charts, summary, quarters"});
    CHECK(
        sheet_faults("[[sheet]]\nname = \"F\"\nkind = \"flags\"\ncolums = [\"flag\"]\n") ==
        lines{
            "mine.layout.toml:6:colums: a sheet of kind flags has no such key; the nearest is columns; there are name, "
            "kind, title, lines, chart, columns"});
    CHECK(
        faults_of("says = \"One.\"\ntitel = \"T\"\ntitle = \"T\"\n[[sheet]]\nname = \"M\"\nkind = \"method\"\n") ==
        lines{
            "mine.layout.toml:2:titel: a layout has no such key; the nearest is title; there are says, title, sheet"});
    CHECK(
        sheet_faults(
            "[[sheet]]\nname = \"M\"\nkind = \"method\"\n[[sheet.chart]]\nkind = \"pie\"\ntitle = \"T\"\nalt = \"A\"\n"
            "from = \"M\"\ncategories = \"bale\"\nseries = [\"net\"]\n")
            .front() ==
        "mine.layout.toml:6:chart: the sheet 'M' has no columns to draw; name a sheet of kind table with "
        "from, or draw figures");
}

TEST_CASE("sheet names that a workbook cannot have are refused") {
    const auto named = [](const std::string& name) {
        return sheet_faults("[[sheet]]\nname = \"" + name + "\"\nkind = \"method\"\n");
    };
    CHECK(named(std::string(31, 'a')).empty());
    CHECK(named(std::string(32, 'a')) == lines{"mine.layout.toml:4:name: '" + std::string(32, 'a') +
                                               "' has 32 characters; a sheet's name has 31 at most"});
    CHECK(named("ø" + std::string(30, 'a')).empty());
    for (const auto* bad : {"a[b", "a]b", "a:b", "a*b", "a?b", "a/b", "a\\\\b", "a\\u0000b", "a\\tb"}) {
        INFO(bad);
        REQUIRE(named(bad).size() == 1);
        CHECK(named(bad).front().find("a character that a sheet's name cannot have") != std::string::npos);
    }
    CHECK(named("'a").size() == 1);
    CHECK(
        sheet_faults(
            "[[sheet]]\nname = \"Costs\"\nkind = \"method\"\n[[sheet]]\nname = \"costs\"\nkind = \"terms\"\n") ==
        lines{
            "mine.layout.toml:7:name: there are two sheets 'costs'; give each its own name; small and capital letters "
            "count as the same"});
}

TEST_CASE("every fault is named at once, in order of the lines") {
    const auto faults =
        faults_of("says = 3\ntitle = \"{{award.program\"\n[[sheet]]\nkind = \"table\"\ntable = \"costs\"\n"
                  "columns = [\"cost\", \"cost\", 4]\ntotal = \"yes\"\n[[sheet.chart]]\nkind = \"bar\"\n"
                  "title = \"T\"\ncategories = \"cost\"\nseries = [\"description\"]\n");
    const std::vector<std::string> begin{
        "mine.layout.toml:1:says:",   "mine.layout.toml:2:title:", "mine.layout.toml:3:name:",
        "mine.layout.toml:6:column:", "mine.layout.toml:6:cost:",  "mine.layout.toml:6:cost:",
        "mine.layout.toml:7:total:",  "mine.layout.toml:8:alt:",   "mine.layout.toml:12:description:"};
    REQUIRE(faults.size() == begin.size());
    for (std::size_t i = 0; i < begin.size(); ++i) {
        CAPTURE(faults[i]);
        CHECK(faults[i].starts_with(begin[i]));
    }
}

TEST_CASE("what is no TOML is refused with its line") {
    const auto faults = faults_of("says = \"One.\"\ntitle = \"T\"\n[[sheet]\n");
    REQUIRE_FALSE(faults.empty());
    CHECK(faults.front().starts_with("mine.layout.toml:3:layout: "));
    CHECK(faults_of("says = \"a\"\nsays = \"b\"\n").front().starts_with("mine.layout.toml:2:"));
    CHECK(
        faults_of("# Größe\nsays = \"Söster \\\\\"\ntitle = “T”\n") ==
        lines{
            "mine.layout.toml:3:layout: Error while parsing value: could not determine value type; write it as TOML "
            "does; letters and marks beyond ASCII stand in straight quotes alone, \"so\""});
    CHECK(
        sheet_faults("[[sheet]]\nname = 'Größe'\nkind = \"method\"\ntitle = \"\"\"\nä\\\n \"é\" \"\"\" # ü\n").empty());
    CHECK_THAT(faults_of("says = 6\"\"\"ƃ\n").front(), Catch::Matchers::Contains("beyond ASCII stand in straight quotes"));
    // Here toml++ 3.3 itself would end the program.
    CHECK(faults_of("says = \"One.\"\ntitle = \"T\"\n[[sheet]]\nname = \"M\"\nkind = \"method\"\n[[# a note\n") ==
          lines{"mine.layout.toml:6:layout: it is no TOML; write it as TOML does"});
    CHECK(faults_of("").size() >= 3); // says, title, sheet
}

TEST_CASE("a chart of figures draws such as stand one below the other") {
    const auto chart = [](const std::string& figures) {
        return sheet_faults(
            "[[sheet]]\nname = \"F\"\nkind = \"figures\"\n[[sheet.group]]\nheading = \"H\"\nfigures = "
            "[\"grant_spent\", \"grant_left\", \"match_given\"]\n[[sheet.chart]]\nkind = \"bar\"\ntitle = "
            "\"T\"\nalt = \"A\"\nfigures = [" +
            figures + "]\n");
    };
    CHECK(chart("\"grant_spent\", \"grant_left\"").empty());
    CHECK(chart("\"grant_spent\", \"match_given\"").size() == 1);
    CHECK(chart("\"diverted_tons\"").size() == 1);
}

TEST_CASE("a layout of the user's goes before the one built in, and the ending decides between page and workbook") {
    const tests::temporary_folder folder;
    folder.write("cost_lines.layout.toml", heading + "[[sheet]]\nname = \"M\"\nkind = \"method\"\n");
    const render::form_shelf shelf{folder.path()};
    CHECK(shelf.choose("cost_lines", true).form.text.starts_with(heading));
    CHECK_FALSE(shelf.choose("cost_lines", false).workbook);
    CHECK(shelf.choose("cost_lines.layout.toml", false).workbook);
    CHECK_FALSE(shelf.choose("cost_lines.mustache", true).workbook);
    CHECK(shelf.choose("quarter_summary", false).workbook);
    CHECK(tests::message_of<records::input_error>([&] {
              static_cast<void>(shelf.choose("quarter_sumary", true));
          }).find("'quarter_summary'") != std::string::npos);
    CHECK_THROWS_AS(static_cast<void>(shelf.choose("../x.layout.toml", true)), records::input_error);
    for (const auto& each : shelf.all())
        if (each.name == "cost_lines" && each.workbook) CHECK((each.sentence == "One." && !each.built_in));
}

TEST_CASE("the README of the templates names everything that a layout may use") {
    const auto readme = tests::bytes_in(tests::source_path("report_templates/README.md"));
    for (const auto& line : render::layout_name_lines()) {
        INFO(line.name);
        CHECK(readme.find("| " + line.name + " | " + line.kind + " | " + line.meaning + " |") != std::string::npos);
    }
}
