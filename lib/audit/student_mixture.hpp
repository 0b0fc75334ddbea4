#pragma once

#include <functional>
#include <vector>

namespace tarewell::audit {

// Student's t distribution with fixed degrees of freedom, tabulated: within 1e-9 of the exact
// value (cubic Hermite interpolation up to |t| = 40, exact beyond).
class student_table {
  public:
    // freedom > 0. Throws std::invalid_argument otherwise.
    explicit student_table(double freedom);

    // P(T <= t).
    double below(double t) const;

  private:
    double freedom_;
    std::vector<double> value_;
    std::vector<double> slope_;
};

// P(X <= x) for X = mean_i + sd_i T with probability weight_i (weights sum to 1). A component with
// sd 0 is a step at its mean.
double mixture_below(const student_table& student, const std::vector<double>& weight, const std::vector<double>& mean,
                     const std::vector<double>& sd, double x);

// The x where an increasing `below` passes `p` (0 < p < 1), to 1e-9 of the bracket's scale.
// `centre` and `width` > 0 say where to look first; the bracket is widened as needed.
double quantile_of(const std::function<double(double)>& below, double p, double centre, double width);

} // namespace tarewell::audit
