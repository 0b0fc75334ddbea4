#include "audit/finite_population.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <stdexcept>

#include "audit/anova.hpp"
#include "audit/exact_sums.hpp"

namespace tarewell::audit {

namespace {

void check_finite(const std::vector<double>& values) {
    if (!std::all_of(values.begin(), values.end(), [](double v) { return std::isfinite(v); })) {
        throw std::invalid_argument("every value must be a finite number");
    }
}

void check_sample(const paired_sample& sample, double population) {
    if (sample.x.size() != sample.y.size()) {
        throw std::invalid_argument("a sample needs as many weights as claims");
    }
    check_finite(sample.x);
    check_finite(sample.y);
    if (!(population >= static_cast<double>(sample.x.size()))) {
        throw std::invalid_argument("a sample is no larger than its population");
    }
}

population_total unusable(std::string sentence) {
    population_total result;
    result.sentence = std::move(sentence);
    return result;
}

// sum (y - r x)^2 / (n - 1)
double ratio_scatter(const paired_sample& sample, double ratio) {
    exact_sum squares;
    for (std::size_t i = 0; i < sample.x.size(); ++i) {
        const double rest = sample.y[i] - ratio * sample.x[i];
        squares.add(rest * rest);
    }
    return squares.value() / (static_cast<double>(sample.x.size()) - 1.0);
}

const char* const two_needed = "A standard error needs two weighed items with claims above zero.";
const char* const three_needed = "A regression needs three weighed items with different claims.";

void check_first(const paired_sample& second, double first_count, double population) {
    check_sample(second, population);
    if (!(first_count >= static_cast<double>(second.x.size())) || !(population >= first_count)) {
        throw std::invalid_argument("double sampling needs n <= n' <= N");
    }
}

} // namespace

std::vector<double> pro_rata_shares(double net, const std::vector<double>& estimates) {
    check_finite(estimates);
    if (std::any_of(estimates.begin(), estimates.end(), [](double e) { return e < 0.0; })) {
        throw std::invalid_argument("an estimate is not negative");
    }
    const double total = std::accumulate(estimates.begin(), estimates.end(), 0.0);
    std::vector<double> shares(estimates.size(), 0.0);
    for (std::size_t i = 0; i < shares.size() && total > 0.0; ++i) {
        shares[i] = net * estimates[i] / total;
    }
    return shares;
}

population_total pro_rata_total(double weighed_net, double weighed_claim, double on_hand_claim) {
    if (!(weighed_claim > 0.0)) {
        return unusable("Nothing with a claim has been weighed yet.");
    }
    population_total result;
    result.usable = true;
    result.ratio = weighed_net / weighed_claim;
    result.total = weighed_net + result.ratio * on_hand_claim;
    result.sentence = "Claims on hand at the ratio seen so far; no standard error, since what was "
                      "weighed first is not a random sample.";
    return result;
}

population_total ratio_total(const paired_sample& sample, double population, double x_total) {
    check_sample(sample, population);
    const double n = static_cast<double>(sample.x.size());
    const double mean_x = mean_of(sample.x);
    if (n < 2.0 || !(mean_x > 0.0)) {
        return unusable(two_needed);
    }
    population_total result;
    result.usable = true;
    result.ratio = mean_of(sample.y) / mean_x;
    result.total = result.ratio * x_total;
    result.form = error_form::a;
    result.standard_error = population * std::sqrt((1.0 - n / population) * ratio_scatter(sample, result.ratio) / n);
    result.other_error = result.standard_error * (x_total / population) / mean_x;
    result.sentence = "Ratio estimator; standard error of form A, form B beside it.";
    return result;
}

population_total regression_total(const paired_sample& sample, double population, double x_total) {
    check_sample(sample, population);
    const auto line = fit_line(sample.x, sample.y);
    if (!line.usable) {
        return unusable(three_needed);
    }
    const double n = line.points;
    population_total result;
    result.usable = true;
    result.ratio = line.slope;
    result.total = population * (mean_of(sample.y) + line.slope * (x_total / population - mean_of(sample.x)));
    result.form = error_form::linear;
    result.standard_error = population * line.residual_sd * std::sqrt((1.0 - n / population) / n);
    result.sentence = "Regression estimator; residual scatter with n - 2.";
    return result;
}

population_total double_sampling_ratio(const paired_sample& second, double first_count, double first_mean_x,
                                       double population) {
    check_first(second, first_count, population);
    const double n = static_cast<double>(second.x.size());
    const double mean_x = mean_of(second.x);
    if (n < 2.0 || !(mean_x > 0.0)) {
        return unusable(two_needed);
    }
    population_total result;
    result.usable = true;
    result.ratio = mean_of(second.y) / mean_x;
    result.total = population * result.ratio * first_mean_x;
    const double first_part = (1.0 / first_count - 1.0 / population) * square_sum(second.y) / (n - 1.0);
    const double second_part = (1.0 / n - 1.0 / first_count) * ratio_scatter(second, result.ratio);
    const double up = first_mean_x / mean_x;
    result.form = error_form::a;
    result.standard_error = population * std::sqrt(first_part + second_part);
    result.other_error = population * std::sqrt(first_part + up * up * second_part);
    result.sentence = "Double sampling with a ratio; standard error of form A, form B beside it.";
    return result;
}

population_total double_sampling_regression(const paired_sample& second, double first_count, double first_mean_x,
                                            double population) {
    check_first(second, first_count, population);
    const auto line = fit_line(second.x, second.y);
    if (!line.usable) {
        return unusable(three_needed);
    }
    const double n = line.points;
    population_total result;
    result.usable = true;
    result.ratio = line.slope;
    result.total = population * (mean_of(second.y) + line.slope * (first_mean_x - mean_of(second.x)));
    result.form = error_form::linear;
    result.standard_error =
        population * std::sqrt((1.0 / first_count - 1.0 / population) * square_sum(second.y) / (n - 1.0) +
                               (1.0 / n - 1.0 / first_count) * line.residual_sd * line.residual_sd);
    result.sentence = "Double sampling with a regression; residual scatter with n - 2.";
    return result;
}

population_total expansion_total(const std::vector<double>& cluster_totals, double weight,
                                 double clusters_in_population) {
    check_finite(cluster_totals);
    const double n = static_cast<double>(cluster_totals.size());
    if (!(clusters_in_population >= n) || !(weight > 0.0)) {
        throw std::invalid_argument("an expansion needs n <= N and a weight above 0");
    }
    if (n < 2.0) {
        return unusable("A standard error needs two clusters.");
    }
    population_total result;
    result.usable = true;
    result.total = weight * n * mean_of(cluster_totals);
    result.form = error_form::expansion;
    result.standard_error =
        weight * std::sqrt((1.0 - n / clusters_in_population) * n * square_sum(cluster_totals) / (n - 1.0));
    result.sentence = "Expansion of cluster totals, drawn without replacement.";
    return result;
}

population_total hansen_hurwitz_total(const std::vector<double>& y, const std::vector<double>& draw_probability) {
    if (y.size() != draw_probability.size()) {
        throw std::invalid_argument("every draw needs its probability");
    }
    check_finite(y);
    std::vector<double> expanded;
    for (std::size_t i = 0; i < y.size(); ++i) {
        if (!(draw_probability[i] > 0.0 && draw_probability[i] <= 1.0)) {
            throw std::invalid_argument("a draw's probability lies above 0 and up to 1");
        }
        expanded.push_back(y[i] / draw_probability[i]);
    }
    const double n = static_cast<double>(y.size());
    if (n < 2.0) {
        return unusable("A standard error needs two draws.");
    }
    population_total result;
    result.usable = true;
    result.total = mean_of(expanded);
    result.form = error_form::hansen_hurwitz;
    result.standard_error = std::sqrt(square_sum(expanded) / (n * (n - 1.0)));
    result.sentence = "Drawn with probability proportional to size, with replacement.";
    return result;
}

} // namespace tarewell::audit
