#include "quiet_season.hpp"
#include "render/layout_fill.hpp"
#include "render/layout_reader.hpp"
#include "workbook_parts.hpp"

#include <catch2/catch.hpp>

#include <set>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;

namespace {

const reckoned_season& sample() {
    static const reckoned_season season{"sample_data/season"};
    return season;
}

workbook_parts sample_parts(const render::layout& layout = shipped_layout()) {
    const temporary_folder folder;
    write_workbook(sample(), {2026, 2}, folder.file("q.xlsx"), false, "2026-07-10T08:00:00Z", layout);
    return parts_of(folder.file("q.xlsx"));
}

std::string joined(const workbook_parts& parts, const std::string& prefix) {
    std::string whole;
    for (const auto& [name, text] : parts)
        if (name.starts_with(prefix)) whole += text;
    return whole;
}

std::size_t count_in(const workbook_parts& parts, const std::string& prefix) {
    std::size_t count = 0;
    for (const auto& [name, text] : parts)
        count += name.starts_with(prefix) ? 1 : 0;
    return count;
}

/// What the audit predicts, and no sum of rows gives.
const std::set<std::string> predicted{"on_hand_expected", "on_hand_low", "on_hand_high"};

} // namespace

TEST_CASE("every chart of the quarter's workbook is native, titled, and described for those who cannot see it") {
    const auto parts = sample_parts();
    CHECK(count_in(parts, "xl/charts/chart") == 5);
    const auto drawings = joined(parts, "xl/drawings/drawing");
    std::size_t described = 0;
    for (std::size_t at = 0; (at = drawings.find("descr=\"", at)) != std::string::npos; at += 7) {
        const auto end = drawings.find('"', at + 7);
        CHECK(end - at > 60);
        ++described;
    }
    CHECK(described == 5);
    CHECK_THAT(drawings, Contains("4.4362 tons by June 30, 2026") || Contains("4.436 tons by June 30, 2026"));
    CHECK_THAT(drawings, !Contains("{{"));
    const auto charts = joined(parts, "xl/charts/chart");
    for (const auto* title :
         {"Tons diverted to date against the goal", "Claim against scale, by bale weighed in the quarter",
          "Bundles rejected in the quarter, by cause", "Money to date against the budget", "What a ton cost, by purpose"})
        CHECK_THAT(charts, Contains(title));
    CHECK_THAT(charts, Contains("By month") && Contains("Claim and scale") && Contains("Reject causes"));
    CHECK_THAT(charts, Contains("<c:v>2026-04</c:v>")); // the values stand in the chart, too
}

TEST_CASE("every evidence sheet is a table with its own headings, and none has merged cells") {
    const auto parts = sample_parts();
    const auto& book = parts.at("xl/workbook.xml");
    std::size_t sheets = 0;
    for (std::size_t at = 0; (at = book.find("<sheet name=", at)) != std::string::npos; ++at)
        ++sheets;
    CHECK(count_in(parts, "xl/tables/table") == sheets - 2); // all but the summary and the charts
    const auto tables = joined(parts, "xl/tables/table");
    CHECK_THAT(tables, Contains("name=\"Net less estimate\"") && Contains("name=\"Rows of evidence\""));
    CHECK_THAT(joined(parts, "xl/worksheets/"), !Contains("mergeCell"));
}

TEST_CASE("what blocks closing and what does not tie is said in words and stands out") {
    const auto parts = sample_parts();
    const auto sheets = joined(parts, "xl/worksheets/sheet");
    CHECK_THAT(sheets,
               Contains("<formula>\"blocks closing\"</formula>") && Contains("<formula>\"does not tie\"</formula>"));
    CHECK_THAT(parts.at("xl/sharedStrings.xml"), Contains("<t>blocks closing</t>") && Contains("<t>question</t>"));
}

TEST_CASE("the tie-out has a second sum for every figure but the statistics, and every difference is 0") {
    const auto report = sample().all_figures({2026, 2});
    const auto filled = render::fill_layout(shipped_layout(), {report, sample().season(), sample().reckoned(), {}});
    const auto sheet = std::find_if(filled.sheets.begin(), filled.sheets.end(),
                                    [](const auto& each) { return each.name == "Tie-out"; });
    REQUIRE(sheet != filled.sheets.end());
    REQUIRE(sheet->rows.size() == report.figures.size());
    for (std::size_t row = 0; row < sheet->rows.size(); ++row) {
        const auto name = render::exact_text(sheet->at(row, 0));
        INFO(name);
        CHECK(sheet->special_at(row, 2)->formula == "=" + name);
        if (predicted.contains(name)) {
            CHECK(render::exact_text(sheet->at(row, 3)).empty());
            CHECK(render::exact_text(sheet->at(row, 4)).empty());
            CHECK(render::exact_text(sheet->at(row, 5)) == "no second sum");
            CHECK(sheet->special_at(row, 4) == nullptr);
            CHECK(sheet->special_at(row, 5)->formula.empty());
        } else {
            CHECK(render::exact_text(sheet->at(row, 4)) == "0");
            CHECK(render::exact_text(sheet->at(row, 5)) == "ties");
            CHECK_THAT(sheet->special_at(row, 4)->formula, Contains("ROUND(C#-D#"));
        }
    }
}

TEST_CASE("the first sheet is one printed page: this quarter, the quarter before, to date and the award") {
    const auto now = sample().all_figures({2026, 3}), before = sample().all_figures({2026, 2});
    const auto filled = render::fill_layout(shipped_layout(), {now, sample().season(), sample().reckoned(), {}});
    const auto& sheet = filled.sheets.front();
    REQUIRE(sheet.name == "Summary");
    const auto row_of = [&](const std::string& label) {
        for (std::size_t row = 0; row < sheet.rows.size(); ++row)
            if (render::exact_text(sheet.at(row, 1)) == label) return row;
        throw std::runtime_error("no line is called " + label);
    };
    const auto tons = row_of("Tons diverted"), direct = row_of("Direct costs on the grant");
    CHECK(render::exact_text(sheet.at(tons, 3)) == figures::text_of(now.find("diverted_tons")->value));
    CHECK(render::exact_text(sheet.at(tons, 4)) == figures::text_of(before.find("diverted_tons")->value));
    CHECK(render::exact_text(sheet.at(tons, 5)) == figures::text_of(now.find("diverted_tons_to_date")->value));
    CHECK(render::number_in(sheet.at(tons, 6)) == 13); // the sample award's goal
    CHECK(sheet.special_at(tons, 3)->formula == "=diverted_tons");
    CHECK(sheet.special_at(tons, 4)->formula.empty()); // the quarter before has no sheet of figures here
    CHECK(render::exact_text(sheet.at(direct, 6)) == figures::text_of(now.find("line_10d")->value));
    const auto first = sample().all_figures({2026, 1});
    const auto of_first = render::fill_layout(shipped_layout(), {first, sample().season(), sample().reckoned(), {}});
    CHECK(render::exact_text(of_first.sheets.front().at(tons, 4)).empty()); // the award had not begun
    const auto parts = sample_parts();
    CHECK_THAT(parts.at("xl/worksheets/sheet1.xml"), Contains("fitToPage=\"1\"") && !Contains("landscape"));
}

TEST_CASE("a sheet without rows is there for formulas and out of sight") {
    const auto book = sample_parts().at("xl/workbook.xml");
    const auto adjustments = book.find("<sheet name=\"Adjustments\"");
    const auto bales = book.find("<sheet name=\"Bales\"");
    if (adjustments != std::string::npos)
        CHECK_THAT(book.substr(adjustments, book.find("/>", adjustments) - adjustments), Contains("state=\"hidden\""));
    CHECK_THAT(book.substr(bales, book.find("/>", bales) - bales), !Contains("hidden"));
    reckoned_season nothing_paid{quiet_season()};
    const auto report = nothing_paid.all_figures({2026, 2});
    const temporary_folder folder;
    render::write_workbook(folder.file("q.xlsx"), shipped_layout(),
                           {report, nothing_paid.season(), nothing_paid.reckoned(), {}});
    const auto quiet = parts_of(folder.file("q.xlsx")).at("xl/workbook.xml");
    const auto payments = quiet.find("<sheet name=\"Payments\"");
    REQUIRE(payments != std::string::npos);
    CHECK_THAT(quiet.substr(payments, quiet.find("/>", payments) - payments), Contains("state=\"hidden\""));
}

TEST_CASE("every figure is a formula in the workbook, but for those named here") {
    const auto values_of = [](const reckoned_season& season, quantity::quarter quarter) {
        const auto report = season.all_figures(quarter);
        std::set<std::string> values;
        for (const auto& each : report.figures)
            if (!figures::formula_of(each.name, report.basis, season.season(), season.reckoned()))
                values.insert(each.name);
        return values;
    };
    CHECK(values_of(sample(), {2026, 2}) == predicted);
    CHECK(values_of(reckoned_season{"tests/golden/seasons/plain"}, {2026, 2}) == predicted);
    CHECK(values_of(reckoned_season{"tests/golden/seasons/shipped_indirect"}, {2026, 3}) == predicted);
    CHECK(values_of(reckoned_season{"tests/golden/seasons/kilograms_july"}, {2025, 4}) == predicted);
    CHECK(values_of(reckoned_season{"tests/golden/seasons/accepted_grant_match"}, {2026, 2}) == predicted);
    reckoned_season amended{"tests/golden/seasons/shipped_indirect"};
    intake::record(
        amended.file(), records::kind::amendment,
        {{"amendment", "A1"}, {"date", "2026-07-01"}, {"indirect_percent", "15"}, {"description", "a new rate"}},
        amended.around());
    amended.read(amended.head());
    auto with_indirect = predicted;
    with_indirect.insert({"indirect_claimed", "indirect_to_date"}); // each percent has its own part of the base
    CHECK(values_of(amended, {2026, 3}) == with_indirect);
    CHECK(values_of(amended, {2026, 2}) == predicted);
}

TEST_CASE("a figure's formula follows from its line") {
    const auto report = sample().figures({2026, 2});
    const auto formula = [&](const char* figure) {
        return figures::formula_of(figure, report.basis, sample().season(), sample().reckoned()).value_or("none");
    };
    CHECK(formula("registered_bundles") ==
          R"(=COUNTIFS(bundles_registered_on,">="&quarter_from,bundles_registered_on,"<="&quarter_to))");
    CHECK(formula("on_hand_bundles") ==
          R"(=COUNTIFS(bundles_received_on,"<="&quarter_to))"
          R"(-COUNTIFS(bundles_received_on,"<="&quarter_to,bundles_left_on,"<="&quarter_to))");
    CHECK(formula("growers_served") == R"(=COUNTIFS(by_grower_grower,"<>unknown",by_grower_received,">0"))");
    CHECK(formula("diverted_tons") == "=diverted_weight/unit_per_ton");
    CHECK(formula("goal_share") == R"(=IF(goal_tons=0,"",diverted_tons_to_date/goal_tons))");
    CHECK(formula("rejected_share") ==
          R"(=IF((rejected_bundles+received_bundles)=0,"",rejected_bundles/(rejected_bundles+received_bundles)))");
    CHECK(formula("cost_per_ton") ==
          R"(=IF(diverted_tons<=0,"",(grant_spent+indirect_claimed+match_given)/diverted_tons))");
    CHECK(formula("tipping_avoided") == R"(=IF(tipping_fee_per_ton=0,"",ROUND(diverted_tons*tipping_fee_per_ton,2)))");
    CHECK(formula("grant_left") == "=ROUND(SUM(budget_grant)-grant_spent_to_date-indirect_to_date+line_10m,2)");
    CHECK(formula("line_10j") == "=match_to_date");
    CHECK(formula("on_hand_low") == "none");
}

TEST_CASE("a figure whose evidence is not in the workbook is written as its plain value") {
    auto report = sample().figures({2026, 2});
    auto layout = shipped_layout();
    layout.sheets = {layout.sheets.at(1)};
    const auto filled = render::fill_layout(layout, {report, sample().season(), sample().reckoned(), {}});
    for (const auto& [where, cell] : filled.sheets.front().special) {
        INFO(cell.name);
        // Without the evidence sheets only what stands on other figures and the quarter's days is still a formula.
        CHECK((cell.formula.empty() || cell.formula.find("bales_") == std::string::npos));
        if (cell.name == "diverted_weight" || cell.name == "diverted_tons") CHECK(cell.formula.empty());
        if (cell.name == "residue_share") CHECK_FALSE(cell.formula.empty());
    }
}

TEST_CASE("an own layout with fewer sheets gives what it names, relabelled and in its order") {
    const auto reading = render::read_layout(R"(
says = "Two sheets."
title = "Ours, {{quarter.name}}"
[[sheet]]
name = "Ours"
kind = "figures"
lines = [["Quarter from", "{{quarter.from}}"], ["Nobody", "{{signed.certified_by}}"]]
[[sheet.group]]
heading = "Weight"
figures = [{ figure = "bale_net_weight", label = "Weighed" }, "bales_*"]
[[sheet.chart]]
kind = "column"
title = "Bales"
alt = "Bales made and weighed."
figures = ["bales_made", "bales_weighed"]
[[sheet]]
name = "Bales of the quarter"
kind = "table"
table = "bales"
in_quarter = "weighed_on"
columns = ["weighed_on", { column = "net", label = "Weight, pounds" }, "bale"]
)");
    REQUIRE(reading.findings.empty());
    const auto parts = sample_parts(reading.made);
    CHECK(count_in(parts, "xl/worksheets/sheet") == 2);
    CHECK(count_in(parts, "xl/charts/chart") == 1);
    const auto first = with_texts(parts, "xl/worksheets/sheet1.xml");
    CHECK_THAT(first, Contains("<t>Weighed</t>") && Contains("<t>Bales produced and not shipped by the last day</t>") && !Contains("<t>Nobody</t>"));
    CHECK_THAT(first, !Contains("<f>")); // the bales are not whole in this workbook
    CHECK_THAT(first, Contains("<v>8934.394"));
    const auto second = with_texts(parts, "xl/worksheets/sheet2.xml");
    CHECK(second.find("<t>Weighed on</t>") < second.find("<t>Weight, pounds</t>"));
    CHECK(second.find("<t>Weight, pounds</t>") < second.find("<t>Bale</t>"));
    CHECK_THAT(second, Contains("SUBTOTAL(109") && Contains("<v>8934.394"));
    CHECK_THAT(second, Contains("<t>B001</t>") && Contains("<t>B027</t>") && !Contains("<t>B026</t>"));
    CHECK_THAT(parts.at("docProps/core.xml"), Contains("Ours, 2026-Q2"));
    CHECK_THAT(parts.at("xl/workbook.xml"),
               Contains("<definedName name=\"bale_net_weight\">") && !Contains("bales_net\""));
}

TEST_CASE("a table of the whole ledger has a second total, the quarter's, by the dates of a column") {
    const auto reading = render::read_layout(R"(
says = "One sheet."
title = "Ours"
[[sheet]]
name = "Bales"
kind = "table"
table = "bales"
quarter_total = "weighed_on"
)");
    REQUIRE(reading.findings.empty());
    const auto sheet = with_texts(sample_parts(reading.made), "xl/worksheets/sheet1.xml");
    CHECK_THAT(sheet, Contains("<t>Total of the rows shown</t>") && Contains("<t>In 2026-Q2 by \"Weighed on\"</t>"));
    CHECK_THAT(sheet, Contains("SUMIFS('Bales'!$J$2:$J$45,'Bales'!$I$2:$I$45,\"&gt;=\"&amp;DATE(2026,04,01),"
                               "'Bales'!$I$2:$I$45,\"&lt;=\"&amp;DATE(2026,06,30)),3)</f><v>8934.394"));
}

TEST_CASE("a workbook of very many rows has filters instead of tables, and all the rest") {
    const temporary_folder folder;
    const auto report = sample().all_figures({2026, 2});
    const render::page_input input{
        report, sample().season(), sample().reckoned(), {std::string(64, 'a'), "2026-07-10T08:00:00Z"}};
    render::write_workbook(folder.file("many.xlsx"), shipped_layout(), input, {100});
    const auto many = parts_of(folder.file("many.xlsx"));
    const auto few = sample_parts();
    CHECK(count_in(many, "xl/tables/") == 0);
    CHECK(count_in(many, "xl/charts/chart") == count_in(few, "xl/charts/chart"));
    const auto sheets = joined(many, "xl/worksheets/sheet");
    CHECK_THAT(sheets, Contains("<autoFilter ") && Contains("<conditionalFormatting "));
    const auto count_of = [](const std::string& text, const std::string& what) {
        std::size_t count = 0;
        for (std::size_t at = 0; (at = text.find(what, at)) != std::string::npos; ++at)
            ++count;
        return count;
    };
    CHECK(count_of(sheets, "<f>") == count_of(joined(few, "xl/worksheets/sheet"), "<f>"));
    CHECK(count_of(many.at("xl/workbook.xml"), "<definedName ") >=
          count_of(few.at("xl/workbook.xml"), "<definedName "));
}

TEST_CASE("a sheet whose columns are all missing is left out: growers' names that nobody asked for") {
    const auto reading = render::read_layout("says = \"T.\"\ntitle = \"T\"\n[[sheet]]\nname = \"A\"\nkind = \"terms\"\n"
                                             "[[sheet]]\nname = \"B\"\nkind = \"table\"\ntable = \"by_grower\"\n"
                                             "columns = [\"name\"]\n");
    const auto report = sample().figures({2026, 2});
    render::page_input input{report, sample().season(), sample().reckoned(), {}};
    CHECK(render::fill_layout(reading.made, input).sheets.size() == 1);
    input.with_names = true;
    CHECK(render::fill_layout(reading.made, input).sheets.size() == 2);
}

TEST_CASE("a figure shown twice points the second time to the first") {
    const auto reading =
        render::read_layout("says = \"T.\"\ntitle = \"T\"\n[[sheet]]\nname = \"A\"\nkind = \"figures\"\n"
                            "[[sheet]]\nname = \"B\"\nkind = \"figures\"\n");
    const auto report = sample().figures({2026, 2});
    const auto filled = render::fill_layout(reading.made, {report, sample().season(), sample().reckoned(), {}});
    std::set<std::string> names;
    for (const auto& [where, cell] : filled.sheets[0].special)
        if (!cell.name.empty()) names.insert(cell.name);
    CHECK(names.size() == report.figures.size());
    std::size_t pointing = 0;
    for (const auto& [where, cell] : filled.sheets[1].special) {
        CHECK(cell.name.empty());
        if (!cell.formula.empty()) pointing += names.count(cell.formula.substr(1));
    }
    CHECK(pointing == report.figures.size());
}

TEST_CASE("every shipped layout writes a whole workbook of an empty quarter and of a full one") {
    auto files = quiet_season();
    for (const auto& [name, text] : files)
        if (name != "award.csv") files[name] = text.substr(0, text.find('\n') + 1);
    const reckoned_season empty{files};
    const temporary_folder folder;
    const render::form_shelf shelf;
    std::size_t layouts = 0;
    for (const auto& each : shelf.all()) {
        if (!each.workbook) continue;
        ++layouts;
        INFO(each.name);
        const auto layout = render::need_layout(shelf.choose(each.name, true).form);
        CHECK_NOTHROW(write_workbook(empty, {2026, 2}, folder.file("e.xlsx"), false, "2026-07-10T08:00:00Z", layout));
        CHECK_NOTHROW(write_workbook(sample(), {2026, 2}, folder.file("f.xlsx"), true, "2026-07-10T08:00:00Z", layout));
        const std::string figure = each.name == "audit" ? "on_hand_expected" : "grant_spent";
        CHECK_THAT(parts_of(folder.file("f.xlsx")).at("xl/workbook.xml"),
                   Contains("definedName name=\"" + figure + "\""));
    }
    CHECK(layouts >= 4);
    CHECK(files_in(folder) == 2);
}
