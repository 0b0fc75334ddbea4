#pragma once

#include <string>
#include <vector>

// Control charts for check and spot weights. Chart check weights, not bales: a drift of the scale
// hides in the scatter of what a bale holds. (NIST/SEMATECH e-Handbook, sections 6.3.2.2 and
// 6.3.2.4.)
namespace tarewell::audit {

struct chart_signal {
    int index = 0;
    bool above = false; // else below
};

struct individuals_chart {
    bool usable = false; // false: fewer than two values, or all equal
    std::string sentence;
    double centre = 0.0;
    double lower = 0.0; // centre -+ 3 (mean moving range) / d2, d2 = 2/sqrt(pi) = 1.128
    double upper = 0.0;
    double sd = 0.0; // mean moving range / d2
    double mean_range = 0.0;
    double upper_range = 0.0;  // D4 = 3.267 times mean_range
    std::vector<double> range; // |x_i - x_{i-1}|, one less than the values
    std::vector<chart_signal> values_out;
    std::vector<chart_signal> ranges_out; // index of the later value
};

// Individuals and moving range of two. `centre` and limits come from the first `baseline` values
// (0: from all). Constants d2 and D4 to three decimals as printed in the tables, so that limits
// can be checked by hand. Throws std::invalid_argument on a value that is not finite.
individuals_chart chart_individuals(const std::vector<double>& values, int baseline = 0);

struct ewma_settings {
    double target = 0.0;
    double sd = 1.0;     // of one value, > 0
    double weight = 0.2; // lambda in (0, 1]
    double width = 3.0;  // limits in sds of the statistic, > 0
    bool steady = false; // true: the limits' final width from the start
};

struct ewma_chart {
    std::vector<double> statistic; // z_i = weight x_i + (1 - weight) z_{i-1}, z_0 = target
    std::vector<double> lower;
    std::vector<double> upper;
    std::vector<chart_signal> out;
};

// Exponentially weighted moving average (Roberts 1959, Technometrics 1).
// Throws std::invalid_argument on settings out of range or values that are not finite.
ewma_chart chart_ewma(const std::vector<double>& values, const ewma_settings& settings);

} // namespace tarewell::audit
