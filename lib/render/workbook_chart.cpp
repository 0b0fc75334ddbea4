#include "render/workbook_chart.hpp"

#include <xlsxwriter.h>

#include <string_view>

namespace tarewell::render {
namespace {

struct colours {
    lxw_color_t fill, line;
};
// As on the page, each role has its colour: what was measured or spent, what was claimed, a goal, and what is
// only allowed. They differ in lightness too, so that they hold in print without colour.
constexpr colours measured{0x1F5A4C, 0x1F5A4C}, claimed{0xEBC49F, 0xA3561B}, goal{0x55389A, 0x55389A},
    allowed{0xFFFFFF, 0x4A524D};
constexpr double few = 10; // whole numbers up to here are told one by one on the axis
constexpr std::size_t most_named = 16; // categories of bars that have room for their names
constexpr lxw_color_t quiet = 0x55605A, rule = 0xCFD3CC;

std::uint8_t type_of(chart_kind kind) {
    switch (kind) {
    case chart_kind::column:
        return LXW_CHART_COLUMN;
    case chart_kind::bar:
        return LXW_CHART_BAR;
    case chart_kind::line:
        return LXW_CHART_LINE;
    }
    return LXW_CHART_COLUMN;
}

/// Filled shapes by fill and outline; lines by dashes and markers.
void paint(lxw_chart_series* series, std::size_t number, chart_kind kind, std::string_view column) {
    const auto colour = number == 0                                                         ? measured
                        : column == "low" || column == "high" || column.ends_with("budget") ? allowed
                        : kind == chart_kind::line                                          ? goal
                                                                                            : claimed;
    lxw_chart_line line{};
    line.color = colour.line;
    line.width = kind == chart_kind::line ? 2.25F : 0.75F;
    if (kind == chart_kind::line && number > 0) line.dash_type = LXW_CHART_LINE_DASH_DASH;
    chart_series_set_line(series, &line);
    lxw_chart_fill fill{};
    fill.color = colour.fill;
    if (kind != chart_kind::line)
        chart_series_set_fill(series, &fill);
    else if (number == 0) {
        chart_series_set_marker_type(series, LXW_CHART_MARKER_CIRCLE);
        chart_series_set_marker_fill(series, &fill);
    }
}

void axes(lxw_chart* chart, const chart_setup& setup) {
    const bool bars = setup.kind == chart_kind::bar; // their categories are on the upright axis
    auto* categories = bars ? chart->y_axis : chart->x_axis;
    auto* values = bars ? chart->x_axis : chart->y_axis;
    lxw_chart_font small{};
    small.size = 9;
    small.color = quiet;
    for (auto* axis : {categories, values}) {
        chart_axis_set_num_font(axis, &small);
        chart_axis_set_name_font(axis, &small);
    }
    lxw_chart_line grid{};
    grid.color = rule;
    grid.width = 0.5F;
    chart_axis_major_gridlines_set_visible(values, LXW_TRUE);
    chart_axis_major_gridlines_set_visible(categories, LXW_FALSE);
    chart_axis_major_gridlines_set_line(values, &grid);
    chart_axis_set_num_format(values, setup.whole ? "#,##0" : "General");
    if (setup.whole && setup.most < few) chart_axis_set_major_unit(values, 1);
    if (!setup.unit.empty()) chart_axis_set_name(values, setup.unit.c_str());
    if (!setup.categories_name.empty()) chart_axis_set_name(categories, setup.categories_name.c_str());
    if (!bars) return;
    if (setup.category_count <= most_named) chart_axis_set_interval_unit(categories, 1); // none left out
    // The first category on top, the values' axis below.
    chart_axis_set_reverse(categories);
    chart_axis_set_crossing_max(categories);
}

} // namespace

lxw_chart* new_chart(lxw_workbook* book, const chart_setup& setup) {
    auto* chart = workbook_add_chart(book, type_of(setup.kind));
    if (chart == nullptr) return nullptr;
    for (std::size_t i = 0; i < setup.series.size(); ++i) {
        const auto& each = setup.series[i];
        auto* series = chart_add_series(chart, ("=" + each.categories).c_str(), ("=" + each.values).c_str());
        if (series == nullptr) return nullptr;
        chart_series_set_name(series, each.label.c_str());
        paint(series, i, setup.kind, each.column);
    }
    lxw_chart_font title{};
    title.size = 12;
    title.bold = LXW_TRUE;
    chart_title_set_name(chart, setup.title.c_str());
    chart_title_set_name_font(chart, &title);
    chart_legend_set_position(chart, setup.series.size() > 1 ? LXW_CHART_LEGEND_BOTTOM : LXW_CHART_LEGEND_NONE);
    if (setup.kind != chart_kind::line) chart_set_series_gap(chart, 60);
    axes(chart, setup);
    return chart;
}

} // namespace tarewell::render
