#pragma once
#include "render/svg_chart.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace tarewell::render {

/// & < > " ' written so that they are text in HTML and SVG, in elements and in attributes.
std::string escaped(std::string_view text);

/// "1,234.5" from "1234.5"; anything that is not a plain number is left as it is.
std::string grouped_digits(std::string_view number);

/// Round numbers from at or below `low` to at or above `high`, about `wanted` steps.
std::vector<double> ticks(double low, double high, int wanted);
/// A tick's writing: no more decimals than the step needs, thousands apart.
std::string tick_text(double tick, double step);

/// Where a value stands on an axis.
struct axis {
    double low = 0, high = 1;  ///< values
    double from = 0, to = 100; ///< places; `to` may lie before `from`
    std::vector<double> at;    ///< ticks
    [[nodiscard]] double place(double value) const;
    [[nodiscard]] double step() const { return at.size() > 1 ? at[1] - at[0] : 1; }
};
/// `counts`: of whole things, so that no tick stands between two numbers.
axis axis_over(double low, double high, double from, double to, int wanted = 4, bool counts = false);

enum class mark { solid, outline, hatched };
enum class anchor { start, middle, end };

/// One chart being drawn on a field 400 units wide: at that width text stays readable on a phone.
class svg_canvas {
  public:
    static constexpr double width = 400, text_size = 13, small_size = 11.5;

    explicit svg_canvas(std::string id) : id_{std::move(id)} {}

    void text(double x, double y, std::string_view what, anchor how = anchor::start,
              std::string_view style = "chart-text");
    void line(double x1, double y1, double x2, double y2, std::string_view style);
    /// Any of the two widths may be negative or 0.
    void box(double x, double y, double wide, double high, mark how, std::string_view series);
    void circle(double x, double y, double radius, mark how, std::string_view series);
    void diamond(double x, double y, double radius, mark how, std::string_view series);
    void path(const std::vector<std::pair<double, double>>& points, std::string_view style);
    void band(double x, double y, double wide, double high);
    /// Gridlines and tick labels below a plot that reaches from `top` to `bottom`.
    void axis_below(const axis& of, double top, double bottom, std::string_view unit);
    void axis_left(const axis& of, double left, double right, std::string_view unit);

    struct key {
        std::string name, series;
        enum class shape { box, circle, diamond, line, dashed, band } look = shape::box;
        mark how = mark::solid;
    };
    /// The legend, in one or more rows from the top; returns where the plot may begin.
    double legend(const std::vector<key>& keys);

    [[nodiscard]] std::string finish(const chart_words& words, double height) const;

  private:
    void legend_mark(const key& of, double x, double y);
    [[nodiscard]] std::string fill_of(mark how, std::string_view series) const;

    std::string id_, body_;
};

/// A label short enough to stand beside a row; the table has it in full.
std::string short_label(std::string_view label, std::size_t most = 18);
/// Room for the longest of some short labels.
double room_for(const std::vector<std::string>& labels);

} // namespace tarewell::render
