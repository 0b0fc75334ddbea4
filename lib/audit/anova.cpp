#include "audit/anova.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include <boost/math/distributions/fisher_f.hpp>
#include <boost/math/distributions/students_t.hpp>

#include "audit/exact_sums.hpp"

namespace tarewell::audit {

namespace {

void check_finite(const std::vector<double>& values) {
    if (!std::all_of(values.begin(), values.end(), [](double v) { return std::isfinite(v); })) {
        throw std::invalid_argument("every value must be a finite number");
    }
}

void check_pairs(const std::vector<double>& x, const std::vector<double>& y) {
    if (x.size() != y.size()) {
        throw std::invalid_argument("pairs need as many first as second values");
    }
    check_finite(x);
    check_finite(y);
}

std::vector<double> shifted(std::vector<double> values, double origin) {
    for (auto& value : values) {
        value -= origin;
    }
    return values;
}

} // namespace

one_way_anova analyse_one_way(const std::vector<std::vector<double>>& values_by_group) {
    one_way_anova result;
    result.group_mean.assign(values_by_group.size(), 0.0);
    // An origin within the data makes the differences exact to the last digit that was written.
    double origin = 0.0;
    for (const auto& values : values_by_group) {
        check_finite(values);
        if (!values.empty()) {
            origin = result.values == 0 ? values.front() : origin;
            ++result.groups;
            result.values += static_cast<int>(values.size());
        }
    }
    exact_sum total;
    exact_sum within;
    std::vector<std::vector<double>> moved;
    for (std::size_t g = 0; g < values_by_group.size(); ++g) {
        moved.push_back(shifted(values_by_group[g], origin));
        for (const double value : moved.back()) {
            total.add(value);
        }
        within.add(square_sum(moved.back()));
        result.group_mean[g] = moved.back().empty() ? 0.0 : origin + mean_of(moved.back());
    }
    result.between_freedom = result.groups - 1;
    result.within_freedom = result.values - result.groups;
    if (result.between_freedom < 1 || result.within_freedom < 1) {
        result.sentence = "Comparing groups needs two groups, and two values in one of them.";
        return result;
    }
    const double mean = total.value() / result.values;
    exact_sum between;
    for (const auto& values : moved) {
        const double from_mean = mean_of(values) - mean;
        between.add(static_cast<double>(values.size()) * from_mean * from_mean);
    }
    result.usable = true;
    result.between_square_sum = between.value();
    result.within_square_sum = within.value();
    result.between_mean_square = result.between_square_sum / result.between_freedom;
    result.within_mean_square = result.within_square_sum / result.within_freedom;
    result.residual_sd = std::sqrt(result.within_mean_square);
    const double all = result.between_square_sum + result.within_square_sum;
    result.r_square = all > 0.0 ? result.between_square_sum / all : 0.0;
    if (result.within_mean_square > 0.0) {
        result.f = result.between_mean_square / result.within_mean_square;
        const boost::math::fisher_f f(result.between_freedom, result.within_freedom);
        result.p = cdf(complement(f, result.f));
        result.sentence = "The groups are compared.";
    } else {
        result.p = result.between_square_sum > 0.0 ? 0.0 : 1.0;
        result.sentence = "There is no scatter within groups, so no F can be given.";
    }
    return result;
}

straight_line fit_line(const std::vector<double>& x, const std::vector<double>& y) {
    check_pairs(x, y);
    straight_line line;
    line.points = static_cast<int>(x.size());
    const double xx = square_sum(x);
    if (x.size() < 3 || !(xx > 0.0)) {
        line.sentence = "A line needs three points, not all at the same place.";
        return line;
    }
    const double mean_x = mean_of(x);
    const double mean_y = mean_of(y);
    line.slope = product_sum(x, y) / xx;
    exact_sum squares;
    exact_sum left;
    for (std::size_t i = 0; i < x.size(); ++i) {
        const double rest = (y[i] - mean_y) - line.slope * (x[i] - mean_x);
        squares.add(rest * rest);
        left.add(rest);
    }
    const double count = line.points;
    line.intercept = mean_y + left.value() / count - line.slope * mean_x;
    line.residual_sd = std::sqrt(squares.value() / (count - 2.0));
    line.slope_error = line.residual_sd / std::sqrt(xx);
    line.intercept_error = line.residual_sd * std::sqrt(1.0 / count + mean_x * mean_x / xx);
    const double yy = square_sum(y);
    line.r_square = yy > 0.0 ? 1.0 - squares.value() / yy : 0.0;
    line.usable = true;
    line.sentence = "The line is fitted.";
    return line;
}

paired_difference compare_scales(const std::vector<double>& first, const std::vector<double>& second, double level) {
    check_pairs(first, second);
    if (!(level > 0.0 && level < 1.0)) {
        throw std::invalid_argument("a level lies between 0 and 1");
    }
    paired_difference result;
    result.pairs = static_cast<int>(first.size());
    std::vector<double> difference(first.size());
    std::transform(second.begin(), second.end(), first.begin(), difference.begin(), std::minus<>());
    result.mean = result.low = result.high = mean_of(difference);
    if (result.pairs < 2) {
        result.sentence = "Comparing two scales needs two loads weighed on both.";
        return result;
    }
    result.usable = true;
    result.sd = std::sqrt(square_sum(difference) / (result.pairs - 1));
    result.sentence = "The scales are compared.";
    if (!(result.sd > 0.0)) {
        result.p = result.mean == 0.0 ? 1.0 : 0.0;
        return result;
    }
    const boost::math::students_t student(result.pairs - 1);
    const double error = result.sd / std::sqrt(static_cast<double>(result.pairs));
    const double reach = quantile(complement(student, 0.5 * (1.0 - level))) * error;
    result.low = result.mean - reach;
    result.high = result.mean + reach;
    result.p = 2.0 * cdf(complement(student, std::abs(result.mean) / error));
    return result;
}

} // namespace tarewell::audit
