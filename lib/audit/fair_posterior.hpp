#pragma once

#include <optional>
#include <vector>

#include "audit/slip_worlds.hpp"
#include "audit/student_mixture.hpp"

// Inside of find_slips; not for other files.
namespace tarewell::audit {

// Each grower's corrected claim over the claim as made; `correction` by bundle.
std::vector<double> claim_corrections(const pooled_season& given, const std::vector<double>& correction);

// Growers' ratios 1 + u / mu in one world, mu the mean of the grower's classes: at each point of the grid Student's t
// for u - r mu.
class fair_posterior {
  public:
    // u and mu of each grower at one point of the grid; the prior's where the grower was never weighed.
    struct parts {
        double effect = 0.0; // mean of u
        double effect_variance = 0.0;
        double fixed = 1.0; // mean of mu
        double fixed_variance = 0.0;
        double covariance = 0.0;
    };

    fair_posterior(const slip_ground& ground, const fitted_world& world);
    // One point alone.
    fair_posterior(std::vector<double> correction, std::vector<parts> growers, int freedom);

    double below(int grower, double ratio) const; // P(ratio of weight to the claim as made <= ratio)
    double mean(int grower) const;

  private:
    std::vector<double> weight_;              // of the points
    std::vector<std::vector<parts>> growers_; // by point
    std::vector<double> correction_;          // corrected claim over the claim as made
    student_table student_;
};

} // namespace tarewell::audit
