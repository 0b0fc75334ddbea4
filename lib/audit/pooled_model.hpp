#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "audit/pooled_season.hpp"

// What the scale tells about growers, sites and bases when bales mix growers.
//
// Net weight of a bale = sum over its bundles of e (mu_basis + u_grower + v_site) + error, with
// u ~ N(0, sd_grower^2), v ~ N(0, sd_site^2), error variance sd_bundle^2 sum e^2 (+ division^2/12).
// Fitted by penalised least squares and REML (Bates et al. 2015, J. Stat. Softw. 67(1)); intervals
// integrate over the variance ratios, because the plug-in interval is too narrow.
namespace tarewell::audit {

struct pooled_options {
    double level = 0.95;          // of intervals, in (0, 1)
    double prior_scale = 1.0;     // of the half-normal priors on sd_grower/sd_bundle, sd_site/...
    bool include_division = true; // false: error variance from sum e^2 alone
    int threads = 2;
    // Multiplications of one exact factor, and of all those that a fit is expected to need (a second or so each 2e9);
    // above: iterative.
    double largest_work = 5e9;
    double largest_effort = 4e9;
    bool never_approximate = false; // true: too_large rather than the iterative method, by largest_work alone
    int probes = 10;                // iterative only: random vectors for the log determinant
    int samples = 24;               // iterative only: draws for variances
};

enum class pooled_status {
    fitted,
    fitted_at_boundary, // a difference between growers or sites is estimated as 0
    no_scatter,         // weights equal a constant times the estimates: nothing to learn from
    too_large,          // only with never_approximate
    too_few_bales,      // ratios without intervals only
    no_bales,
};

struct ratio_interval {
    double ratio = 0.0; // posterior mean of weight over claim; below 1: claims run high
    double low = 0.0;
    double high = 0.0;
};

struct pooled_fit {
    pooled_status status = pooled_status::no_bales;
    std::string sentence;
    double mu = 0.0; // of the commonest basis; with too few bales: total net over total claim
    std::vector<std::optional<double>> mu_by_basis; // none: never weighed
    double sd_grower = 0.0;
    double sd_site = 0.0;
    double sd_bundle = 0.0;
    double reml = 0.0;                 // -2 log restricted likelihood of the whitened rows
    double reml_weight = 0.0;          // the same on the scale of the weights
    int n = 0;                         // bales in the fit
    int p = 0;                         // bases with a mean of their own
    std::vector<double> grower_effect; // u by grower (0 when never weighed)
    std::vector<double> site_effect;
    bool approximate = false; // iterative method: see reml_error
    double reml_error = 0.0;  // standard error of reml when approximate
    int evaluations = 0;
    std::vector<season_finding> findings;
};

enum class grower_call { never_weighed, cannot_tell, fits, runs_high, runs_low };

struct grower_ratio {
    int grower = 0;
    int bundles = 0;
    int weighed_bundles = 0; // in bales of the fit
    double estimate = 0.0;   // of all bundles
    double weighed_estimate = 0.0;
    double scale_weight = 0.0; // pro-rata share of its bales' net weights
    // None when never weighed, or nothing can be fitted.
    std::optional<ratio_interval> to_claim; // rho = mu + u + v
    std::optional<ratio_interval> to_bases; // rho over the mean of the grower's bases
    double reml_ratio = 0.0;                // mu + u + v at the REML estimates alone (the BLUP), 0 when none
    double p_outside = 0.0;                 // P(|to_bases - 1| > tolerance): what calls rest on
    double p_runs_high = 0.0;               // P(to_bases < 1 - tolerance): claims high
    double p_outside_one = 0.0;             // P(|to_claim - 1| > tolerance)
    grower_call call = grower_call::cannot_tell;
    int group = -1; // of grower_group, -1: none
};

struct grower_group {
    std::vector<int> growers;               // ascending
    bool always_proportional = false;       // else: posterior correlation below -0.9
    std::optional<ratio_interval> to_claim; // of the group's weighed claims together
    std::optional<ratio_interval> to_bases;
    double p_outside = 0.0;
    double p_runs_high = 0.0;
    double p_outside_one = 0.0;
    grower_call call = grower_call::cannot_tell;
};

struct call_options {
    double tolerance = 0.10;        // of to_bases around 1
    double false_share = 0.10;      // expected share of wrong calls among those called
    double least_probability = 0.5; // no call below this p_outside, however sure the others are
    double fits_below = 0.10;       // "fits" when p_outside is at most this
    // false: members of a group are not called one by one, only their group is.
    bool call_group_members = false;
};

struct grower_report {
    std::vector<grower_ratio> growers; // by grower index
    std::vector<grower_group> groups;  // growers that cannot be told apart
    int called = 0;
    // Mean of 1 - p_outside over those called. Approximate: in simulated seasons of a pilot's
    // size about a third more were wrong.
    double expected_false_share = 0.0;
};

struct site_ratio {
    int site = 0;
    double weighed_estimate = 0.0;
    std::optional<ratio_interval> to_claim; // mean of its bases + v
    std::optional<ratio_interval> to_bases;
};

struct basis_ratio {
    int basis = 0;
    double weighed_estimate = 0.0;
    std::optional<ratio_interval> to_claim; // mu; the program's own, held against 1
};

struct total_weight {
    bool predicted = false;  // false: nothing could be fitted, on_hand fields are 0
    double weighed = 0.0;    // sum of the net weights that are not negative
    double weighed_sd = 0.0; // from the scales' divisions
    int on_hand_bundles = 0;
    double on_hand_estimate = 0.0;
    double on_hand_expected = 0.0;
    double on_hand_low = 0.0;
    double on_hand_high = 0.0;
    double total_low = 0.0; // weighed + on hand
    double total_high = 0.0;
    std::string sentence;
};

enum class weigh_goal { total, growers };

struct weigh_choice {
    int bundle = 0;
    double sd_before = 0.0; // total: sd of the weight on hand; growers: root mean variance of rho
    double sd_after = 0.0;
};

struct pooled_parts;

// One fit and what follows from it. The season is copied; the object may be moved, not shared
// between threads. Throws std::invalid_argument on indices out of range or options out of range.
class pooled_model {
  public:
    explicit pooled_model(pooled_season season, const pooled_options& options = {});
    ~pooled_model();
    pooled_model(pooled_model&&) noexcept;
    pooled_model& operator=(pooled_model&&) noexcept;

    const pooled_fit& fit() const;

    grower_report growers(const call_options& options = {}) const;
    std::vector<site_ratio> sites() const;
    std::vector<basis_ratio> bases() const;
    total_weight total() const;

    // Up to `count` bundles on hand to weigh alone next, chosen one after the other for the largest
    // fall of the expected variance (rank-one updates at the REML estimates). Empty when nothing is
    // fitted. `most_kinds`: only that many kinds (grower, site, basis) of the most claimed are
    // considered. Weights themselves do not matter, so the gain is known beforehand.
    std::vector<weigh_choice> weigh_next(int count, weigh_goal goal, int most_kinds = 400) const;

  private:
    std::unique_ptr<pooled_parts> parts_;
};

} // namespace tarewell::audit
