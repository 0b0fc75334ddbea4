#include "render/layout_names.hpp"

#include "render/form_names.hpp"
#include "render/layout.hpp"
#include "render/report_tables.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

namespace tarewell::render {

std::vector<layout_name_line> layout_name_lines() {
    std::vector<layout_name_line> lines;
    for (const auto& each : sheet_kind_names)
        lines.push_back({std::string{each.name}, "sheet kind", std::string{each.meaning}});
    lines.push_back(
        {fmt::format("{}", fmt::join(chart_kind_names, ", ")), "chart kind", "how a chart draws its series"});
    lines.push_back(
        {"NAME", "figure", "each figure that `tarewell quarter show` lists; NAME* stands for all that begin so"});
    lines.push_back(
        {"{{quarter.title}}", "text", "as in a page: texts of quarter, award, mark, signed and figure.NAME"});
    for (const auto& table : known_tables().all) {
        std::string columns;
        for (const auto& each : table->columns)
            columns += (columns.empty() ? "" : ", ") + each.name;
        lines.push_back({form_word(table->name), "table", "columns " + columns});
    }
    return lines;
}

} // namespace tarewell::render
