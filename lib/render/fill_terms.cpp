#include "figures/make_columns.hpp"
#include "figures/terms.hpp"
#include "render/fill_sheets.hpp"

#include <fmt/format.h>

namespace tarewell::render {

using namespace figures; // NOLINT

sheet_data terms_sheet(const page_input& in) {
    table rows{
        "Terms", "", {words("term", "Term"), {"value", "Value", content::ratio, false}, words("note", "Note")}, {}};
    std::map<std::pair<std::size_t, std::size_t>, special_cell> special;
    for (const auto& each : terms_of(in.season, in.report.basis)) {
        special[{rows.rows.size(), 1}] = {{}, each.name, look::plain};
        rows.rows.push_back(row_of(each.label, each.value, each.note));
    }
    for (const auto& each : in.season.amendments)
        rows.rows.push_back(row_of(fmt::format("Amendment {}", each.id), cell{},
                                   fmt::format("{}: {}", quantity::text_of(each.date), each.why)));
    auto sheet = whole_sheet(std::move(rows));
    sheet.special = std::move(special);
    return sheet;
}

sheet_data subawards_sheet(const page_input& in) {
    table rows{"Subawards",
               "",
               {words("subaward", "Subaward"), dollars("direct", "In the base to date, before the limit"),
                dollars("direct_before", "In the base by the day before, before the limit"), dollars("limit", "Limit"),
                dollars("over", "Over the limit to date"), dollars("over_before", "Over the limit by the day before")},
               {}};
    std::map<std::pair<std::size_t, std::size_t>, special_cell> special;
    for (const auto& each : subawards_of(in.season, in.report.basis)) {
        const auto row = rows.rows.size();
        special[{row, 1}].formula = subaward_formula("quarter_to");
        special[{row, 2}].formula = subaward_formula("(quarter_from-1)");
        special[{row, 4}].formula = "=MAX(0,B#-D#)";
        special[{row, 5}].formula = "=MAX(0,C#-D#)";
        rows.rows.push_back(
            row_of(each.subaward, each.direct, each.direct_before, each.limit, each.over, each.over_before));
    }
    auto sheet = whole_sheet(std::move(rows));
    sheet.special = std::move(special);
    sheet.total_label = "In all subawards";
    for (const std::size_t c : {1, 2, 4, 5})
        sheet.columns[c].total = true;
    sheet.columns[4].range_name = "subawards_over_to_date_rows";
    sheet.columns[5].range_name = "subawards_over_before_rows";
    sheet.special_totals[4] = {"=ROUND(SUM(subawards_over_to_date_rows),2)", "subawards_over_to_date", {}};
    sheet.special_totals[5] = {"=ROUND(SUM(subawards_over_before_rows),2)", "subawards_over_before", {}};
    return sheet;
}

} // namespace tarewell::render
