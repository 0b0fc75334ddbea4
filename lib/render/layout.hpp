#pragma once
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace tarewell::render {

/// A word or text of a layout and the line that it stands in.
struct placed {
    std::string text;
    std::size_t line = 0;
    [[nodiscard]] bool empty() const { return text.empty(); }
};

/// A name with the label to show in place of its own; an empty label is its own.
struct labelled {
    placed name;
    std::string label;
};

enum class sheet_kind { figures, table, flags, tie_out, terms, subawards, method, text, charts, summary, quarters };
enum class chart_kind { column, bar, line };

struct kind_name {
    std::string_view name;
    std::string_view meaning;
};
constexpr kind_name sheet_kind_names[] = {
    {"figures", "figures in groups, each a live formula where the workbook holds what it needs"},
    {"table", "an evidence table, its columns chosen, ordered and relabelled"},
    {"flags", "what a reviewer would ask about, with what blocks closing marked"},
    {"tie_out", "every figure, its second sum and the difference"},
    {"terms", "the award's terms and amendments; formulas refer to them"},
    {"subawards", "subaward amounts over the MTDC limit; formulas refer to it"},
    {"method", "what each sheet holds, and how the figures are made"},
    {"text", "its lines alone"},
    {"charts", "charts of other sheets' tables"},
    {"summary", "one printed page: this quarter, the quarter before, to date and the award, each line named in words"},
    {"quarters",
     "a year's, the award's or a span's quarters side by side: filed, changed since, open; left out of a quarter"},
};
constexpr std::string_view chart_kind_names[] = {"column", "bar", "line"};

/// Columns of a sheet's table drawn, or figures that stand one below the other.
struct layout_chart {
    chart_kind kind = chart_kind::column;
    std::size_t line = 0;
    placed title, alt;
    placed from; ///< the sheet that it draws; empty: its own
    placed categories;
    std::vector<labelled> series;
    std::vector<placed> figures;
};

/// A label and a text above a sheet's table.
struct layout_line {
    std::string label;
    placed text;
};

/// A line of a summary: figures by name, and what the award says, a figure too or a text.
struct layout_row {
    placed label, quarter, to_date, award;
};

struct layout_group {
    std::string heading;
    std::vector<labelled> figures; ///< a name that ends in * stands for all so beginning that are not named before
    std::vector<layout_row> rows;  ///< of a summary
};

struct layout_sheet {
    placed name;
    sheet_kind kind = sheet_kind::text;
    placed title;
    std::vector<layout_line> lines;
    std::vector<layout_group> groups;
    placed table;
    std::vector<labelled> columns; ///< none: all
    placed in_quarter;             ///< the column whose date decides; empty: every row
    bool total = true;
    placed quarter_total; ///< the column whose date decides what a second total, the quarter's, holds; empty: none
    std::vector<layout_chart> charts;
};

/// A workbook's sheets as data. Texts may hold {{names}} as a page does.
struct layout {
    std::string says; ///< what it is, for `report forms`
    placed title;
    std::vector<layout_sheet> sheets;
};

/// One figure of a sheet in its place.
struct figure_place {
    std::string group, name, label;
};
/// The figures of a sheet of kind figures, names that end in * written out; without a group all of them.
std::vector<figure_place> figures_on(const layout_sheet& sheet);

/// The name of a text that stands alone in double braces, "quarter.from"; empty when there is more.
std::string only_name_in(const std::string& text);

} // namespace tarewell::render
