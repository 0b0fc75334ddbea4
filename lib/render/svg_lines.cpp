#include "render/svg_canvas.hpp"

#include <algorithm>

namespace tarewell::render {
namespace {

using shape = svg_canvas::key::shape;
using places = std::vector<std::pair<double, double>>;

constexpr double plot_height = 190, left = 46, right = 388;

chart begun(const chart_words& words, std::vector<std::string> more_headings) {
    chart made{words.id, words.title, words.description, {}, {{words.label_heading}, {}}};
    for (auto& each : more_headings)
        made.table.headings.push_back(std::move(each));
    return made;
}

double slot_of(std::size_t count) { return (right - left) / static_cast<double>(std::max<std::size_t>(count, 1)); }

places places_of(const std::vector<line_point>& points, const axis& up) {
    places found;
    for (std::size_t i = 0; i < points.size(); ++i)
        found.emplace_back(left + slot_of(points.size()) * (static_cast<double>(i) + 0.5),
                           up.place(points[i].amount.value));
    return found;
}

void labels_below(svg_canvas& canvas, const std::vector<line_point>& points, const places& at, double y) {
    const std::size_t every = points.size() / 8 + 1;
    for (std::size_t i = 0; i < points.size(); ++i)
        if ((points.size() - 1 - i) % every == 0)
            canvas.text(at[i].first, y, short_label(points[i].label, 9), anchor::middle);
}

} // namespace

chart line_with_goal(const chart_words& words, const std::string& series, const std::vector<line_point>& points,
                     const std::string& goal_name, const shown& goal) {
    chart made = begun(words, {series, goal_name});
    svg_canvas canvas{words.id};
    const double top = canvas.legend({{series, "chart-a", shape::line}, {goal_name, "chart-goal", shape::dashed}}) + 16;
    double low = 0, high = goal.value;
    for (const auto& each : points)
        low = std::min(low, each.amount.value), high = std::max(high, each.amount.value);
    const auto up = axis_over(low, high, top + plot_height, top);
    canvas.axis_left(up, left, right, words.unit);
    const auto at = places_of(points, up);
    canvas.line(left, up.place(goal.value), right, up.place(goal.value), "chart-goal chart-dashed");
    canvas.text(left + 4, up.place(goal.value) - 5, goal_name + " " + goal.text);
    canvas.path(at, "chart-a-line");
    for (std::size_t i = 0; i < points.size(); ++i) {
        canvas.circle(at[i].first, at[i].second, 3.5, mark::solid, "chart-a");
        made.table.rows.push_back({points[i].label, points[i].amount.text, goal.text});
    }
    if (!points.empty()) canvas.text(at.back().first, at.back().second - 9, points.back().amount.text, anchor::middle);
    labels_below(canvas, points, at, top + plot_height + 18);
    made.svg = canvas.finish(words, top + plot_height + 26);
    return made;
}

chart paired_dots(const chart_words& words, const std::string& first, const std::string& second,
                  const std::vector<pair_row>& rows) {
    chart made = begun(words, {first, second});
    svg_canvas canvas{words.id};
    const double top = canvas.legend(
        {{first, "chart-b", shape::diamond, mark::outline}, {second, "chart-a", shape::circle, mark::solid}});
    std::vector<std::string> labels;
    double low = rows.empty() ? 0 : rows.front().first.value, high = low;
    for (const auto& row : rows) {
        labels.push_back(short_label(row.label));
        low = std::min({low, row.first.value, row.second.value});
        high = std::max({high, row.first.value, row.second.value});
    }
    constexpr double row_height = 19;
    const auto across = axis_over(low, high, room_for(labels), svg_canvas::width - 16, 5);
    const double bottom = top + row_height * static_cast<double>(rows.size());
    canvas.axis_below(across, top, bottom, words.unit);
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const double y = top + row_height * (static_cast<double>(i) + 0.5);
        canvas.text(across.from - 6, y + 4.5, labels[i], anchor::end);
        canvas.line(across.place(rows[i].first.value), y, across.place(rows[i].second.value), y, "chart-link");
        canvas.diamond(across.place(rows[i].first.value), y, 5.5, mark::outline, "chart-b");
        canvas.circle(across.place(rows[i].second.value), y, 4.2, mark::solid, "chart-a");
        made.table.rows.push_back({rows[i].label, rows[i].first.text, rows[i].second.text});
    }
    made.svg = canvas.finish(words, bottom + 34);
    return made;
}

chart interval_plot(const chart_words& words, const std::string& series, const std::vector<interval_row>& rows,
                    const std::optional<tolerance_band>& band) {
    chart made = begun(words, {series, "Low", "High"});
    const bool told = std::any_of(rows.begin(), rows.end(), [](const auto& row) { return !row.said.empty(); });
    if (band) made.table.headings.emplace_back(told ? "Call" : "Against " + band->name);
    svg_canvas canvas{words.id};
    std::vector<svg_canvas::key> keys{{series, "chart-a", shape::circle, mark::solid}};
    if (band) {
        keys.push_back({told ? "called" : "outside", "chart-b", shape::diamond, mark::outline});
        keys.push_back({band->name, "chart-band", shape::band});
    }
    const double top = canvas.legend(keys);
    std::vector<std::string> labels;
    double low = band ? band->low.value : rows.empty() ? 0 : rows.front().low.value;
    double high = band ? band->high.value : low;
    for (const auto& row : rows) {
        labels.push_back(short_label(row.label));
        low = std::min(low, row.low.value);
        high = std::max(high, row.high.value);
    }
    constexpr double row_height = 20;
    const auto across = axis_over(low, high, room_for(labels), svg_canvas::width - 16, 5);
    const double bottom = top + row_height * static_cast<double>(rows.size());
    canvas.axis_below(across, top, bottom, words.unit);
    if (band)
        canvas.band(across.place(band->low.value), top, across.place(band->high.value) - across.place(band->low.value),
                    bottom - top);
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const auto& row = rows[i];
        const double y = top + row_height * (static_cast<double>(i) + 0.5);
        const bool apart = band && (row.low.value > band->high.value || row.high.value < band->low.value);
        const bool outside = row.said.empty() ? apart : row.stands_out;
        canvas.text(across.from - 6, y + 4.5, labels[i], anchor::end);
        canvas.line(across.place(row.low.value), y, across.place(row.high.value), y, "chart-interval");
        for (const double end : {row.low.value, row.high.value})
            canvas.line(across.place(end), y - 4, across.place(end), y + 4, "chart-interval");
        if (outside)
            canvas.diamond(across.place(row.middle.value), y, 5.5, mark::outline, "chart-b");
        else
            canvas.circle(across.place(row.middle.value), y, 4, mark::solid, "chart-a");
        made.table.rows.push_back({row.label, row.middle.text, row.low.text, row.high.text});
        if (band)
            made.table.rows.back().emplace_back(!row.said.empty() ? row.said
                                                : outside         ? "outside"
                                                                  : "not apart from it");
    }
    made.svg = canvas.finish(words, bottom + 34);
    return made;
}

chart control_chart_of(const chart_words& words, const std::string& series, const std::vector<line_point>& points,
                       const control_lines& lines) {
    chart made = begun(words, {series, "Lower limit", "Centre", "Upper limit", "Against the limits"});
    svg_canvas canvas{words.id};
    const double top = canvas.legend({{series, "chart-a", shape::circle, mark::solid},
                                      {"outside the limits", "chart-b", shape::circle, mark::outline},
                                      {"limits", "chart-goal", shape::dashed}}) +
                       16;
    double low = lines.lower.value, high = lines.upper.value;
    for (const auto& each : points)
        low = std::min(low, each.amount.value), high = std::max(high, each.amount.value);
    const auto up = axis_over(low, high, top + plot_height, top);
    canvas.axis_left(up, left, right, words.unit);
    canvas.line(left, up.place(lines.centre.value), right, up.place(lines.centre.value), "chart-centre");
    for (const auto* limit : {&lines.lower, &lines.upper}) {
        canvas.line(left, up.place(limit->value), right, up.place(limit->value), "chart-goal chart-dashed");
        canvas.text(right, up.place(limit->value) - 4, limit->text, anchor::end, "chart-small");
    }
    canvas.text(right, up.place(lines.centre.value) - 4, lines.centre.text, anchor::end, "chart-small");
    const auto at = places_of(points, up);
    canvas.path(at, "chart-trace");
    for (std::size_t i = 0; i < points.size(); ++i) {
        const double value = points[i].amount.value;
        const bool outside = value < lines.lower.value || value > lines.upper.value;
        canvas.circle(at[i].first, at[i].second, 3.5, mark::solid, "chart-a");
        if (outside) {
            canvas.circle(at[i].first, at[i].second, 7, mark::outline, "chart-b");
            canvas.text(at[i].first, at[i].second - 10, points[i].label, anchor::middle, "chart-small");
        }
        made.table.rows.push_back({points[i].label, points[i].amount.text, lines.lower.text, lines.centre.text,
                                   lines.upper.text, outside ? "outside" : "inside"});
    }
    labels_below(canvas, points, at, top + plot_height + 18);
    made.svg = canvas.finish(words, top + plot_height + 26);
    return made;
}

} // namespace tarewell::render
