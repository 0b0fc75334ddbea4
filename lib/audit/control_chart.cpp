#include "audit/control_chart.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "audit/exact_sums.hpp"

namespace tarewell::audit {

namespace {

constexpr double d2 = 1.128;
constexpr double big_d4 = 3.267;

void check_finite(const std::vector<double>& values) {
    if (!std::all_of(values.begin(), values.end(), [](double v) { return std::isfinite(v); })) {
        throw std::invalid_argument("every value must be a finite number");
    }
}

void note_if_out(std::vector<chart_signal>& out, std::size_t index, double value, double lower, double upper) {
    if (value > upper || value < lower) {
        out.push_back({static_cast<int>(index), value > upper});
    }
}

} // namespace

individuals_chart chart_individuals(const std::vector<double>& values, int baseline) {
    check_finite(values);
    if (baseline < 0 || baseline == 1 || baseline > static_cast<int>(values.size())) {
        throw std::invalid_argument("a chart's baseline has at least two of the values");
    }
    individuals_chart chart;
    for (std::size_t i = 1; i < values.size(); ++i) {
        chart.range.push_back(std::abs(values[i] - values[i - 1]));
    }
    if (values.size() < 2) {
        chart.sentence = "A control chart needs two values.";
        return chart;
    }
    const auto count = static_cast<std::ptrdiff_t>(baseline > 0 ? static_cast<std::size_t>(baseline) : values.size());
    chart.centre = mean_of({values.begin(), values.begin() + count});
    chart.mean_range = mean_of({chart.range.begin(), chart.range.begin() + count - 1});
    chart.sd = chart.mean_range / d2;
    chart.lower = chart.centre - 3.0 * chart.sd;
    chart.upper = chart.centre + 3.0 * chart.sd;
    chart.upper_range = big_d4 * chart.mean_range;
    chart.usable = chart.mean_range > 0.0;
    if (!chart.usable) {
        chart.sentence = "All values are equal, so there is no scatter to set limits by.";
        return chart;
    }
    for (std::size_t i = 0; i < values.size(); ++i) {
        note_if_out(chart.values_out, i, values[i], chart.lower, chart.upper);
    }
    for (std::size_t i = 0; i < chart.range.size(); ++i) {
        note_if_out(chart.ranges_out, i + 1, chart.range[i], 0.0, chart.upper_range);
    }
    chart.sentence = chart.values_out.empty() && chart.ranges_out.empty()
                         ? "Every value is within the limits."
                         : "Some values are outside the limits: check the scale at those times.";
    return chart;
}

ewma_chart chart_ewma(const std::vector<double>& values, const ewma_settings& settings) {
    check_finite(values);
    if (!std::isfinite(settings.target) || !(settings.sd > 0.0) || !(settings.weight > 0.0 && settings.weight <= 1.0) ||
        !(settings.width > 0.0)) {
        throw std::invalid_argument("a setting of the moving average is out of range");
    }
    ewma_chart chart;
    const double keep = 1.0 - settings.weight;
    double statistic = settings.target;
    double forgotten = 1.0; // keep^(2 i)
    for (std::size_t i = 0; i < values.size(); ++i) {
        statistic = settings.weight * values[i] + keep * statistic;
        forgotten *= keep * keep;
        const double part = settings.steady ? 1.0 : 1.0 - forgotten;
        const double reach = settings.width * settings.sd * std::sqrt(settings.weight / (2.0 - settings.weight) * part);
        chart.statistic.push_back(statistic);
        chart.lower.push_back(settings.target - reach);
        chart.upper.push_back(settings.target + reach);
        note_if_out(chart.out, i, statistic, chart.lower.back(), chart.upper.back());
    }
    return chart;
}

} // namespace tarewell::audit
