#pragma once
#include <optional>
#include <string>
#include <vector>

namespace tarewell::render {

/// The numbers of a chart as a table for those who do not see it; the first cell heads its row.
struct chart_table {
    std::vector<std::string> headings;
    std::vector<std::vector<std::string>> rows;
};

/// Inline SVG and the table that says the same. The SVG has a title, a description, role="img", a
/// viewBox and no fixed width; colours come from the page's style (classes chart-a, chart-b, ...)
/// and no meaning rests on colour alone: series differ by fill, hatching or marker and are
/// labelled.
struct chart {
    std::string id, title, description, svg;
    chart_table table;
};

/// What is said about a chart. `id` is unique in its page and made of letters, digits and '-'.
struct chart_words {
    std::string id, title, description;
    std::string label_heading; ///< of the table's first column
    std::string unit;          ///< beside the axis
};

/// A number and its writing; the library draws the one and prints the other, and computes neither.
struct shown {
    double value = 0;
    std::string text;
};

struct bar {
    std::string label;
    shown amount;
};
/// One bar a row, longest scale from 0; negative amounts go to the left of 0.
chart horizontal_bars(const chart_words& words, const std::string& series, const std::vector<bar>& bars);

/// A row with up to two measures, each against a target drawn as an outline around it.
struct bar_against {
    std::string label;
    shown first, first_target;
    shown second, second_target;
};
struct against_names {
    std::string first, first_target, second, second_target;
};
chart bars_against_targets(const chart_words& words, const against_names& names, const std::vector<bar_against>& rows);

struct column_group {
    std::string label;
    std::vector<shown> amounts; ///< one for each series
};
/// Columns side by side, at most three series.
chart grouped_columns(const chart_words& words, const std::vector<std::string>& series,
                      const std::vector<column_group>& groups);

struct line_point {
    std::string label;
    shown amount;
};
/// A line over time with the goal as a dashed line across.
chart line_with_goal(const chart_words& words, const std::string& series, const std::vector<line_point>& points,
                     const std::string& goal_name, const shown& goal);

/// Two markers a row joined by a line: hollow for the first, solid for the second.
struct pair_row {
    std::string label;
    shown first, second;
};
chart paired_dots(const chart_words& words, const std::string& first, const std::string& second,
                  const std::vector<pair_row>& rows);

/// A dot with its interval; those whose interval lies outside the band get another marker. Where a row brings what is
/// said of it, its marker and its line of the table follow that alone.
struct interval_row {
    std::string label;
    shown middle, low, high;
    std::string said = {};
    bool stands_out = false;
};
struct tolerance_band {
    shown low, high;
    std::string name;
};
chart interval_plot(const chart_words& words, const std::string& series, const std::vector<interval_row>& rows,
                    const std::optional<tolerance_band>& band);

struct control_lines {
    shown centre, lower, upper;
};
/// Points in order with their centre and limits; a point outside is ringed and labelled.
chart control_chart_of(const chart_words& words, const std::string& series, const std::vector<line_point>& points,
                       const control_lines& lines);

} // namespace tarewell::render
