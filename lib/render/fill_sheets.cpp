#include "render/fill_sheets.hpp"

#include "figures/make_columns.hpp"
#include "figures/second_sums.hpp"
#include "render/method_notes.hpp"

#include <fmt/format.h>

namespace tarewell::render {
namespace {

using namespace figures; // NOLINT

/// The quarter or year before by the same records; empty where the award had not begun, and of any other period.
report report_before(const page_input& in) {
    const auto& period = in.report.basis.period;
    const bool year = period.is == quantity::period::kind::year;
    if (!year && !period.is_quarter()) return {};
    const auto earlier =
        year ? quantity::period::year(period.first.year - 1) : quantity::period{quantity::previous(period.first)};
    if (in.season.days_of(earlier).to < in.season.the_award->begins) return {};
    return figures_of(in.season, in.reckoning, earlier, in.report.basis.as_of, false);
}

/// What a quarter's sheet says, said of the period.
std::string said(const page_input& in, std::string_view text) { return said_of(in.report.basis.period, text); }

} // namespace

cell cell_of(const value& of) {
    return std::visit([](const auto& each) { return cell{each}; }, of);
}

look look_of(const value& of, std::string_view unit) {
    if (std::holds_alternative<std::int64_t>(of)) return look::count;
    if (std::holds_alternative<weight>(of)) return look::weight;
    if (std::holds_alternative<money>(of) || unit == "$/ton") return look::money;
    return unit == "tons" ? look::tons : unit == "ratio" ? look::percent : look::ratio;
}

int places_of(const value& of) {
    return std::holds_alternative<std::int64_t>(of) ? 0
           : std::holds_alternative<weight>(of)     ? 3
           : std::holds_alternative<money>(of)      ? 2
                                                    : 9;
}

sheet_data whole_sheet(table rows) {
    sheet_data sheet;
    for (std::size_t c = 0; c < rows.columns.size(); ++c)
        sheet.columns.push_back({c, rows.columns[c].heading, false, {}, {}});
    for (std::size_t r = 0; r < rows.rows.size(); ++r)
        sheet.rows.push_back(r);
    sheet.source = std::make_shared<const table>(std::move(rows));
    return sheet;
}

sheet_data figures_sheet(const layout_sheet& of, const page_input& in) {
    table rows{"Figures",
               "",
               {words("part", "Part"),
                words("meaning", "Figure"),
                {"value", "Value", content::ratio, false},
                words("unit", "Unit"),
                words("reason", "Note")},
               {}};
    std::map<std::pair<std::size_t, std::size_t>, special_cell> special;
    constexpr std::size_t meaning_column = 1, value_column = 2, note_column = 4;
    for (const auto& place : figures_on(of)) {
        const auto* figure = in.report.find(place.name);
        if (figure == nullptr) continue;
        for (const auto column : {meaning_column, note_column})
            special[{rows.rows.size(), column}].how = look::wrapped;
        auto& cell = special[{rows.rows.size(), value_column}];
        cell.how = look_of(figure->value, figure->unit);
        cell.name = figure->name;
        cell.formula = formula_of(figure->name, in.report.basis, in.season, in.reckoning).value_or("");
        rows.rows.push_back(row_of(place.group, place.label.empty() ? figure->meaning : said(in, place.label),
                                   cell_of(figure->value), figure->unit, figure->reason));
    }
    auto sheet = whole_sheet(std::move(rows));
    sheet.special = std::move(special);
    if (of.groups.empty()) sheet.columns.erase(sheet.columns.begin()); // no parts
    if (of.groups.empty()) {
        std::map<std::pair<std::size_t, std::size_t>, special_cell> moved;
        for (auto& [where, cell] : sheet.special)
            moved[{where.first, where.second - 1}] = std::move(cell);
        sheet.special = std::move(moved);
    }
    return sheet;
}

sheet_data summary_sheet(const layout_sheet& of, const page_input& in,
                         const std::function<std::string(const placed&)>& text) {
    table rows{"Summary",
               "",
               {words("part", "Part"),
                words("label", "Figure"),
                words("unit", "Unit"),
                {"quarter", said(in, "This quarter"), content::ratio, false},
                {"before", said(in, "Quarter before"), content::ratio, false},
                {"to_date", "To date", content::ratio, false},
                {"award", "Award", content::ratio, false}},
               {}};
    const auto before = report_before(in);
    std::map<std::pair<std::size_t, std::size_t>, special_cell> special;
    const auto show = [&](const report& from, const std::string& name, std::size_t column, bool lives) {
        const auto* figure = name.empty() ? nullptr : from.find(name);
        if (figure == nullptr) return cell{};
        special[{rows.rows.size(), column}] = {
            lives ? "=" + name : std::string{}, {}, look_of(figure->value, figure->unit)};
        return cell_of(figure->value);
    };
    for (const auto& group : of.groups) {
        auto part = group.heading; // said once, as one reads it
        for (const auto& row : group.rows) {
            const auto& named = row.quarter.empty() ? row.to_date.text : row.quarter.text;
            const auto* figure = in.report.find(named);
            if (figure == nullptr) continue;
            const auto& award = row.award.text;
            auto promised = show(in.report, award, 6, true);
            if (const auto said = award.find("{{") == std::string::npos ? std::string{} : text(row.award);
                !said.empty()) {
                special[{rows.rows.size(), 6}].how = look_of(figure->value, figure->unit);
                promised = std::strtod(said.c_str(), nullptr);
            }
            auto quarter = show(in.report, row.quarter.text, 3, true);
            auto earlier = show(before, row.quarter.text, 4, false);
            auto to_date = show(in.report, row.to_date.text, 5, true);
            rows.rows.push_back(row_of(std::exchange(part, {}), said(in, row.label.text), figure->unit,
                                       std::move(quarter), std::move(earlier), std::move(to_date),
                                       std::move(promised)));
        }
    }
    auto sheet = whole_sheet(std::move(rows));
    sheet.special = std::move(special);
    return sheet;
}

sheet_data tie_out_sheet(const page_input& in, const std::vector<table>& evidence) {
    table rows{"Tie-out",
               "",
               {words("name", "Figure"),
                words("unit", "Unit"),
                {"value", "Value", content::ratio, false},
                {"second", "Second sum", content::ratio, false},
                {"difference", "Difference", content::ratio, false},
                words("result", "Result"),
                counts("evidence", "Rows of evidence"),
                words("way", "How it was summed a second time")},
               {}};
    std::map<std::pair<std::size_t, std::size_t>, special_cell> special;
    for (const auto& each : second_sums(in.report, evidence, in.season, in.reckoning)) {
        const auto* figure = in.report.find(each.name);
        const auto row = rows.rows.size();
        const bool undefined = std::holds_alternative<std::monostate>(each.filed);
        const auto how = look_of(undefined ? each.second : each.filed, figure->unit);
        special[{row, 2}] = {"=" + each.name, {}, how};
        cell difference;
        if (each.result == tie::no_second) {
            special[{row, 5}].how = look::unit;
        } else {
            special[{row, 3}] = {{}, {}, how};
            special[{row, 4}] = {
                fmt::format(
                    R"(=IF(AND(ISNUMBER(C#),ISNUMBER(D#)),ROUND(C#-D#,{}),IF(AND(C#="",D#=""),0,"not defined")))",
                    places_of(each.filed)),
                {},
                look::difference};
            special[{row, 5}] = {R"(=IF(E#=0,"ties","does not tie"))", {}, look::unit};
            difference = each.result == tie::ties                                  ? cell{std::int64_t{0}}
                         : std::holds_alternative<std::monostate>(each.difference) ? cell{std::string{"not defined"}}
                                                                                   : cell_of(each.difference);
        }
        rows.rows.push_back(row_of(each.name, figure->unit, cell_of(each.filed), cell_of(each.second), difference,
                                   name_of(each.result), static_cast<std::int64_t>(figure->rows), each.way));
    }
    auto sheet = whole_sheet(std::move(rows));
    sheet.special = std::move(special);
    sheet.columns[4].range_name = "tie_out_differences";
    sheet.columns[5].word_to_mark = "does not tie";
    return sheet;
}

sheet_data method_sheet(const layout& of, const page_input& in, const table_shelf& tables) {
    table rows{"Method", "", {words("word", "Sheet or word"), words("note", "What it says")}, {}};
    const auto about = [&](const layout_sheet& sheet) -> std::string {
        switch (sheet.kind) {
        case sheet_kind::summary:
            return "The quarter on one page: this quarter, the quarter before by the records of today, to date, and "
                   "what "
                   "the award says. Its values point to the sheet of figures. Sheets without a row are hidden: unhide "
                   "them to see what formulas refer to.";
        case sheet_kind::figures:
            return "Figures of the quarter. A value is a formula over the evidence sheets, by their named ranges, "
                   "where they are in "
                   "this workbook: recalculate it to check. Filter an evidence sheet by its dates to see the rows "
                   "behind a figure.";
        case sheet_kind::table:
        case sheet_kind::flags: {
            const auto table = tables.called(sheet.kind == sheet_kind::flags ? "flags" : sheet.table.text);
            if (table == nullptr) return {};
            return table->about + (sheet.in_quarter.empty()
                                       ? std::string{}
                                       : fmt::format(" Only rows whose '{}' is in the quarter.",
                                                     table->columns[table->column(sheet.in_quarter.text)].heading));
        }
        case sheet_kind::tie_out:
            return "Each figure beside a second sum, worked out anew from the evidence tables' cells; the difference "
                   "is a live formula.";
        case sheet_kind::quarters:
            if (in.report.basis.period.is_quarter()) return {};
            return "The period's quarters side by side. Of those that are closed stands what was filed; 'Changed since "
                   "filing' is "
                   "what moved in those; where a line sums, the check beside it is 0.";
        case sheet_kind::terms:
            return "The award's terms in force on the quarter's last day, and its amendments.";
        case sheet_kind::subawards:
            return "Subaward amounts over the MTDC limit are left out of modified total direct costs (MTDC).";
        case sheet_kind::charts:
            return "Charts; each has a description for those who cannot see it, and its numbers stand on the sheet "
                   "named there.";
        case sheet_kind::method:
        case sheet_kind::text:
            return {};
        }
        return {};
    };
    for (const auto& each : of.sheets)
        if (const auto note = about(each); !note.empty()) rows.rows.push_back(row_of(each.name.text, said(in, note)));
    for (const auto& [word, note] : method_notes(in.season.terms_on(in.report.basis.days.to)))
        rows.rows.push_back(row_of(word, said(in, note)));
    auto sheet = whole_sheet(std::move(rows));
    for (std::size_t row = 0; row < sheet.rows.size(); ++row) {
        sheet.special[{row, 0}].how = look::label;
        sheet.special[{row, 1}].how = look::wrapped;
    }
    return sheet;
}

} // namespace tarewell::render
