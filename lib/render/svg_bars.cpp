#include "render/svg_canvas.hpp"

#include <algorithm>
#include <cmath>

namespace tarewell::render {
namespace {

using shape = svg_canvas::key::shape;

template <class Rows, class Label> std::vector<std::string> short_labels(const Rows& rows, Label label) {
    std::vector<std::string> labels;
    for (const auto& row : rows)
        labels.push_back(short_label(label(row)));
    return labels;
}

chart begun(const chart_words& words) {
    return {words.id, words.title, words.description, {}, {{words.label_heading}, {}}};
}

double text_room(const std::string& text) { return 8 + static_cast<double>(text.size()) * 6.6; }

} // namespace

chart horizontal_bars(const chart_words& words, const std::string& series, const std::vector<bar>& bars) {
    chart made = begun(words);
    made.table.headings.push_back(series);
    svg_canvas canvas{words.id};
    const auto labels = short_labels(bars, [](const bar& each) -> const std::string& { return each.label; });
    double low = 0, high = 0, beside = 0;
    for (const auto& each : bars) {
        low = std::min(low, each.amount.value);
        high = std::max(high, each.amount.value);
        beside = std::max(beside, text_room(each.amount.text));
    }
    constexpr double row_height = 24, top = 6;
    const bool counts = std::all_of(bars.begin(), bars.end(),
                                    [](const bar& each) { return each.amount.value == std::floor(each.amount.value); });
    const auto across = axis_over(low, high, room_for(labels), svg_canvas::width - beside, 4, counts);
    const double bottom = top + row_height * static_cast<double>(bars.size());
    canvas.axis_below(across, top, bottom, words.unit);
    for (std::size_t i = 0; i < bars.size(); ++i) {
        const double y = top + row_height * static_cast<double>(i);
        const double end = across.place(bars[i].amount.value);
        canvas.text(across.from - 6, y + 16, labels[i], anchor::end);
        canvas.box(across.place(0), y + 4, end - across.place(0), row_height - 8, mark::solid, "chart-a");
        canvas.text(std::max(end, across.place(0)) + 5, y + 16, bars[i].amount.text);
        made.table.rows.push_back({bars[i].label, bars[i].amount.text});
    }
    made.svg = canvas.finish(words, bottom + 34);
    return made;
}

chart bars_against_targets(const chart_words& words, const against_names& names, const std::vector<bar_against>& rows) {
    chart made = begun(words);
    for (const auto& name : {names.first, names.first_target, names.second, names.second_target})
        made.table.headings.push_back(name);
    svg_canvas canvas{words.id};
    const double top = canvas.legend({{names.first, "chart-a", shape::box, mark::solid},
                                      {names.second, "chart-b", shape::box, mark::hatched},
                                      {"budget", "chart-c", shape::box, mark::outline}});
    const auto labels = short_labels(rows, [](const bar_against& each) -> const std::string& { return each.label; });
    double low = 0, high = 0;
    for (const auto& row : rows)
        for (const auto& each : {row.first, row.first_target, row.second, row.second_target}) {
            low = std::min(low, each.value);
            high = std::max(high, each.value);
        }
    constexpr double row_height = 38;
    const auto across = axis_over(low, high, room_for(labels), svg_canvas::width - 20);
    const double bottom = top + row_height * static_cast<double>(rows.size());
    canvas.axis_below(across, top, bottom, words.unit);
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const auto& row = rows[i];
        const double y = top + row_height * static_cast<double>(i), zero = across.place(0);
        const auto wide = [&](const shown& each) { return across.place(each.value) - zero; };
        canvas.text(across.from - 6, y + 23, labels[i], anchor::end);
        canvas.box(zero, y + 6, wide(row.first), 9, mark::solid, "chart-a");
        if (row.first_target.value != 0) canvas.box(zero, y + 4, wide(row.first_target), 13, mark::outline, "chart-c");
        canvas.box(zero, y + 23, wide(row.second), 9, mark::hatched, "chart-b");
        if (row.second_target.value != 0)
            canvas.box(zero, y + 21, wide(row.second_target), 13, mark::outline, "chart-c");
        made.table.rows.push_back(
            {row.label, row.first.text, row.first_target.text, row.second.text, row.second_target.text});
    }
    made.svg = canvas.finish(words, bottom + 34);
    return made;
}

chart grouped_columns(const chart_words& words, const std::vector<std::string>& series,
                      const std::vector<column_group>& groups) {
    constexpr mark how[] = {mark::hatched, mark::solid, mark::outline};
    const std::string styles[] = {"chart-b", "chart-a", "chart-c"};
    chart made = begun(words);
    svg_canvas canvas{words.id};
    std::vector<svg_canvas::key> keys;
    for (std::size_t i = 0; i < series.size(); ++i) {
        made.table.headings.push_back(series[i]);
        keys.push_back({series[i], styles[i % 3], shape::box, how[i % 3]});
    }
    const double top = canvas.legend(keys) + 16;
    constexpr double plot_height = 180, left = 52;
    double low = 0, high = 0;
    for (const auto& group : groups)
        for (const auto& each : group.amounts)
            low = std::min(low, each.value), high = std::max(high, each.value);
    const auto up = axis_over(low, high, top + plot_height, top);
    canvas.axis_left(up, left, svg_canvas::width, words.unit);
    const double slot = (svg_canvas::width - left) / static_cast<double>(std::max<std::size_t>(groups.size(), 1));
    const double wide = std::min(34.0, slot * 0.8 / static_cast<double>(std::max<std::size_t>(series.size(), 1)));
    const std::size_t every = groups.size() / 8 + 1; // labels that there is room for
    for (std::size_t i = 0; i < groups.size(); ++i) {
        const double middle = left + slot * (static_cast<double>(i) + 0.5);
        double x = middle - wide * static_cast<double>(series.size()) / 2;
        std::vector<std::string> row{groups[i].label};
        for (std::size_t j = 0; j < groups[i].amounts.size(); ++j, x += wide) {
            canvas.box(x + 1, up.place(0), wide - 2, up.place(groups[i].amounts[j].value) - up.place(0), how[j % 3],
                       styles[j % 3]);
            row.push_back(groups[i].amounts[j].text);
        }
        if (i % every == 0)
            canvas.text(middle, top + plot_height + 17, short_label(groups[i].label, 9), anchor::middle);
        made.table.rows.push_back(std::move(row));
    }
    made.svg = canvas.finish(words, top + plot_height + 26);
    return made;
}

} // namespace tarewell::render
