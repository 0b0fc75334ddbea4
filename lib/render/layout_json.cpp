#include "render/layout_json.hpp"

#include "desk/quarter.hpp"
#include "render/layout_fill.hpp"

namespace tarewell::render {
namespace {

using desk::value;

value cell_json(const figures::cell& of) {
    if (std::holds_alternative<std::monostate>(of)) return nullptr;
    if (const auto* count = std::get_if<std::int64_t>(&of)) return *count;
    if (const auto* real = std::get_if<figures::real>(&of)) return *real;
    return exact_text(of);
}

value sheet_json(const sheet_data& sheet) {
    value made{{"name", sheet.name},
               {"kind", std::string{sheet_kind_names[static_cast<std::size_t>(sheet.kind)].name}}};
    if (!sheet.title.empty()) made["title"] = sheet.title;
    auto& lines = made["lines"] = value::array();
    for (const auto& each : sheet.lines)
        lines.push_back({{"label", each.label}, {"text", each.text}});
    auto& charts = made["charts"] = value::array();
    for (const auto& each : sheet.charts)
        charts.push_back({{"title", each.title}, {"alt", each.alt}});
    if (sheet.source == nullptr) return made;
    auto& columns = made["columns"] = value::array();
    for (std::size_t c = 0; c < sheet.columns.size(); ++c)
        columns.push_back({{"name", sheet.name_of(c)}, {"heading", sheet.columns[c].heading}});
    auto& rows = made["rows"] = value::array();
    for (std::size_t r = 0; r < sheet.rows.size(); ++r) {
        value row = value::object();
        for (std::size_t c = 0; c < sheet.columns.size(); ++c)
            row[sheet.name_of(c)] = cell_json(sheet.at(r, c));
        rows.push_back(std::move(row));
    }
    if (sheet.total_label.empty()) return made;
    auto& total = made["total"] = value::object();
    for (std::size_t c = 0; c < sheet.columns.size(); ++c)
        if (sheet.columns[c].total) total[sheet.name_of(c)] = cell_json(sheet.total_of(c));
    if (!sheet.quarter_total) return made;
    auto& in_quarter = made["quarter_total"] = value::object();
    for (std::size_t c = 0; c < sheet.columns.size(); ++c)
        if (sheet.columns[c].total)
            in_quarter[sheet.name_of(c)] =
                cell_json(sheet.source->total(sheet.columns[c].index, sheet.quarter_total->rows));
    return made;
}

} // namespace

value layout_json(const layout& of, const page_input& input) {
    const auto filled = fill_layout(of, input);
    auto whole = desk::figures_for_machines(input.report);
    whole["title"] = filled.title;
    whole["head_hash"] = input.marks.head_hash;
    auto& sheets = whole["sheets"] = value::array();
    for (const auto& each : filled.sheets)
        sheets.push_back(sheet_json(each));
    return whole;
}

} // namespace tarewell::render
