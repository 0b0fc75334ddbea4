#include "render/svg_canvas.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace tarewell::render {
namespace {

/// A place with one decimal at most, so that the same chart is the same bytes.
std::string at(double place) {
    auto text = fmt::format("{:.1f}", place);
    if (text.ends_with(".0")) text.resize(text.size() - 2);
    return text == "-0" ? "0" : text;
}

std::string_view name_of(anchor how) {
    return how == anchor::start ? "start" : how == anchor::middle ? "middle" : "end";
}

std::size_t characters(std::string_view text) {
    return static_cast<std::size_t>(std::count_if(
        text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

constexpr double character_width = 6.9; // of the running text, on the wide side

} // namespace

std::string svg_canvas::fill_of(mark how, std::string_view series) const {
    switch (how) {
    case mark::solid:
        return fmt::format(R"~(class="{}" fill="currentColor")~", series);
    case mark::outline:
        return fmt::format(R"~(class="{}-line" fill="none" stroke="currentColor" stroke-width="1.6")~", series);
    case mark::hatched:
        return fmt::format(R"~(class="{0}-line" fill="url(#{1}-hatch)" stroke="currentColor")~", series, id_);
    }
    return {};
}

void svg_canvas::text(double x, double y, std::string_view what, anchor how, std::string_view style) {
    const double size = style == "chart-text" ? text_size : small_size;
    body_ += fmt::format(R"~(<text class="{}" x="{}" y="{}" font-size="{}" text-anchor="{}" )~"
                         R"~(fill="currentColor">{}</text>)~",
                         style, at(x), at(y), size, name_of(how), escaped(what));
    body_ += '\n';
}

void svg_canvas::line(double x1, double y1, double x2, double y2, std::string_view style) {
    const std::string_view dashes =
        style.find("dashed") == std::string_view::npos ? std::string_view{} : R"~( stroke-dasharray="6 4")~";
    body_ += fmt::format(R"~(<line class="{}" x1="{}" y1="{}" x2="{}" y2="{}" stroke="currentColor"{}/>)~", style,
                         at(x1), at(y1), at(x2), at(y2), dashes);
    body_ += '\n';
}

void svg_canvas::box(double x, double y, double wide, double high, mark how, std::string_view series) {
    if (wide < 0) x += wide, wide = -wide;
    if (high < 0) y += high, high = -high;
    body_ += fmt::format(R"~(<rect x="{}" y="{}" width="{}" height="{}" {}/>)~", at(x), at(y), at(wide), at(high),
                         fill_of(how, series));
    body_ += '\n';
}

void svg_canvas::circle(double x, double y, double radius, mark how, std::string_view series) {
    body_ += fmt::format(R"~(<circle cx="{}" cy="{}" r="{}" {}/>)~", at(x), at(y), at(radius), fill_of(how, series));
    body_ += '\n';
}

void svg_canvas::diamond(double x, double y, double radius, mark how, std::string_view series) {
    body_ += fmt::format(R"~(<path d="M{} {}L{} {}L{} {}L{} {}Z" {}/>)~", at(x - radius), at(y), at(x), at(y - radius),
                         at(x + radius), at(y), at(x), at(y + radius), fill_of(how, series));
    body_ += '\n';
}

void svg_canvas::path(const std::vector<std::pair<double, double>>& points, std::string_view style) {
    if (points.empty()) return;
    std::string through;
    for (const auto& [x, y] : points)
        through += fmt::format("{}{} {}", through.empty() ? "M" : "L", at(x), at(y));
    body_ += fmt::format(R"~(<path class="{}" d="{}" fill="none" stroke="currentColor" stroke-width="2"/>)~", style,
                         through);
    body_ += '\n';
}

void svg_canvas::band(double x, double y, double wide, double high) {
    body_ += fmt::format(R"~(<rect class="chart-band" x="{}" y="{}" width="{}" height="{}" fill="url(#{}-hatch)" )~"
                         R"~(fill-opacity="0.35" stroke="currentColor" stroke-opacity="0.5"/>)~",
                         at(x), at(y), at(wide), at(high), id_);
    body_ += '\n';
}

void svg_canvas::axis_below(const axis& of, double top, double bottom, std::string_view unit) {
    for (const double tick : of.at) {
        const double x = of.place(tick);
        line(x, top, x, bottom, tick == 0 ? "chart-axis" : "chart-grid");
        text(x, bottom + 14, tick_text(tick, of.step()), anchor::middle, "chart-small");
    }
    text(of.to, bottom + 28, unit, anchor::end, "chart-small");
}

void svg_canvas::axis_left(const axis& of, double left, double right, std::string_view unit) {
    for (const double tick : of.at) {
        const double y = of.place(tick);
        line(left, y, right, y, tick == 0 ? "chart-axis" : "chart-grid");
        text(left - 5, y + 4, tick_text(tick, of.step()), anchor::end, "chart-small");
    }
    text(0, of.place(of.high) - 9, unit, anchor::start, "chart-small");
}

void svg_canvas::legend_mark(const key& of, double x, double y) {
    switch (of.look) {
    case key::shape::box:
        box(x, y - 9, 14, 10, of.how, of.series);
        break;
    case key::shape::circle:
        circle(x + 7, y - 4, 4.5, of.how, of.series);
        break;
    case key::shape::diamond:
        diamond(x + 7, y - 4, 5, of.how, of.series);
        break;
    case key::shape::line:
        path({{x, y - 4}, {x + 16, y - 4}}, of.series + "-line");
        break;
    case key::shape::dashed:
        line(x, y - 4, x + 16, y - 4, "chart-goal chart-dashed");
        break;
    case key::shape::band:
        band(x, y - 9, 14, 10);
        break;
    }
}

double svg_canvas::legend(const std::vector<key>& keys) {
    double x = 0, y = 14;
    for (const auto& each : keys) {
        const double wide = 28 + static_cast<double>(characters(each.name)) * character_width;
        if (x > 0 && x + wide > width) x = 0, y += 19;
        legend_mark(each, x, y);
        text(x + 21, y, each.name);
        x += wide + 6;
    }
    return y + 14;
}

std::string svg_canvas::finish(const chart_words& words, double height) const {
    return fmt::format(
        R"~(<svg class="chart-picture" viewBox="0 0 {0} {1}" role="img" aria-labelledby="{2}-title {2}-desc" )~"
        R"~(xmlns="http://www.w3.org/2000/svg">)~"
        "\n"
        R"~(<title id="{2}-title">{3}</title>)~"
        "\n"
        R"~(<desc id="{2}-desc">{4}</desc>)~"
        "\n"
        R"~(<defs><pattern id="{2}-hatch" width="5" height="5" patternUnits="userSpaceOnUse" )~"
        R"~(patternTransform="rotate(45)"><line class="chart-hatch" x1="0" y1="0" x2="0" y2="5" )~"
        R"~(stroke="currentColor" stroke-width="2"/></pattern></defs>)~"
        "\n{5}</svg>",
        at(width), at(height), id_, escaped(words.title), escaped(words.description), body_);
}

std::string short_label(std::string_view label, std::size_t most) {
    if (characters(label) <= most) return std::string{label};
    std::string kept;
    std::size_t count = 0;
    for (const char c : label) {
        const bool begins = (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
        if (begins && ++count >= most) break;
        kept += c;
    }
    return kept + "…";
}

double room_for(const std::vector<std::string>& labels) {
    std::size_t longest = 3;
    for (const auto& each : labels)
        longest = std::max(longest, characters(each));
    return static_cast<double>(longest) * character_width + 8;
}

} // namespace tarewell::render
