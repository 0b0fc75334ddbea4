#pragma once

#include <string>
#include <vector>

namespace tarewell::audit {

// One-way analysis of variance and a straight line, stable for values that agree in their leading
// digits: sums of squares about means in two passes, with compensated sums.

struct one_way_anova {
    bool usable = false; // false: fewer than two groups, or no group with two values
    std::string sentence;
    int groups = 0;
    int values = 0;
    std::vector<double> group_mean;
    double between_square_sum = 0.0;
    double within_square_sum = 0.0;
    int between_freedom = 0;
    int within_freedom = 0;
    double between_mean_square = 0.0;
    double within_mean_square = 0.0;
    double f = 0.0; // 0 when there is no scatter within groups
    double p = 1.0; // P(F >= f)
    double r_square = 0.0;
    double residual_sd = 0.0;
};

// Values by group, all in one unit; empty groups are left out (their mean is 0).
// Throws std::invalid_argument on a value that is not finite.
one_way_anova analyse_one_way(const std::vector<std::vector<double>>& values_by_group);

struct straight_line {
    bool usable = false; // false: fewer than three points, or all x equal
    std::string sentence;
    double intercept = 0.0;
    double slope = 0.0;
    double intercept_error = 0.0; // standard errors
    double slope_error = 0.0;
    double residual_sd = 0.0; // n - 2 degrees of freedom
    double r_square = 0.0;
    int points = 0;
};

// Least squares of y on x. Throws std::invalid_argument when lengths differ or a value is not
// finite.
straight_line fit_line(const std::vector<double>& x, const std::vector<double>& y);

struct paired_difference {
    bool usable = false; // false: fewer than two pairs
    std::string sentence;
    int pairs = 0;
    double mean = 0.0; // of second - first
    double sd = 0.0;
    double low = 0.0; // interval of the mean by Student's t
    double high = 0.0;
    double p = 1.0; // two-sided, of no difference; 0 when all differences are equal and not 0
};

// The same loads on two scales. `level` in (0, 1). Throws std::invalid_argument as fit_line.
paired_difference compare_scales(const std::vector<double>& first, const std::vector<double>& second,
                                 double level = 0.95);

} // namespace tarewell::audit
