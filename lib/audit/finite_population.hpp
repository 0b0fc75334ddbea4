#pragma once

#include <string>
#include <vector>

// The simple estimators shown beside the model: totals of a finite population with standard
// errors. x is the claim, y the scale weight, in one unit. (Cochran 1977, Sampling Techniques, 3rd
// edition; section numbers below.) Every estimator says which form its standard error has.
namespace tarewell::audit {

enum class error_form {
    none,           // no sampling was assumed, so no standard error
    a,              // from the scatter s_e^2 as it is
    b,              // form A times mean X over mean x of the sample
    linear,         // regression: residual scatter with n - 2
    expansion,      // scatter of the expanded values
    hansen_hurwitz, // with replacement
};

struct population_total {
    bool usable = false; // false: see sentence; total and errors are 0
    std::string sentence;
    double total = 0.0;
    double standard_error = 0.0; // of `form`
    error_form form = error_form::none;
    double other_error = 0.0; // ratio and double sampling: of form B when `form` is A
    double ratio = 0.0;       // or slope of the regression
};

// A bale's net weight shared out by its bundles' estimates; all zero when no estimate is above 0.
// Unrounded: the ledger's exact shares are made elsewhere. Throws std::invalid_argument on a
// negative estimate.
std::vector<double> pro_rata_shares(double net, const std::vector<double>& estimates);

// Weighed net plus claims on hand at the ratio of all weighed net to its claims. No standard error.
population_total pro_rata_total(double weighed_net, double weighed_claim, double on_hand_claim);

struct paired_sample {
    std::vector<double> x;
    std::vector<double> y;
};

// X sum y / sum x (Cochran 6.2). `population` is N, `x_total` the claim of all N.
// A: N sqrt((1 - n/N) s_e^2 / n), s_e^2 = sum (y - r x)^2 / (n - 1); B: A times (X/N) / mean x.
// Throws std::invalid_argument when lengths differ, a value is not finite or n > N.
population_total ratio_total(const paired_sample& sample, double population, double x_total);

// N (mean y + slope (X/N - mean x)) (Cochran 7.1, 7.4): residual scatter over n - 2.
population_total regression_total(const paired_sample& sample, double population, double x_total);

// Double sampling (Cochran 12.8 ratio, 12.5 regression): x known of a first sample of
// `first_count` with mean `first_mean_x`, y of the second within it.
// Variance N^2 ((1/n' - 1/N) s_y^2 + (1/n - 1/n') s_e^2); ratio's form B puts (mean x' / mean x)^2
// to the second term. Throws as ratio_total, and unless n <= n' <= N.
population_total double_sampling_ratio(const paired_sample& second, double first_count, double first_mean_x,
                                       double population);
population_total double_sampling_regression(const paired_sample& second, double first_count, double first_mean_x,
                                            double population);

// Cluster (or item) totals expanded by one weight: sum w t, variance (1 - n/N) n s_wt^2.
population_total expansion_total(const std::vector<double>& cluster_totals, double weight,
                                 double clusters_in_population);

// Drawn with replacement, y_i with probability p_i in each draw: mean of y/p (Hansen and Hurwitz
// 1943, Ann. Math. Stat. 14; Cochran 9A.3). Throws unless every p is in (0, 1].
population_total hansen_hurwitz_total(const std::vector<double>& y, const std::vector<double>& draw_probability);

} // namespace tarewell::audit
