#pragma once

#include <cmath>
#include <vector>

namespace tarewell::audit {

// Neumaier's compensated sum (Z. Angew. Math. Mech. 54, 1974).
class exact_sum {
  public:
    void add(double value) {
        const double next = sum_ + value;
        lost_ += std::abs(sum_) >= std::abs(value) ? (sum_ - next) + value : (value - next) + sum_;
        sum_ = next;
    }
    double value() const { return sum_ + lost_; }

  private:
    double sum_ = 0.0;
    double lost_ = 0.0;
};

inline double mean_of(const std::vector<double>& values) {
    exact_sum sum;
    for (const double value : values) {
        sum.add(value);
    }
    return values.empty() ? 0.0 : sum.value() / static_cast<double>(values.size());
}

// Sum of (x - mean x)(y - mean y), corrected for the means' rounding (Chan, Golub and LeVeque 1983,
// Am. Stat. 37).
inline double product_sum(const std::vector<double>& x, const std::vector<double>& y) {
    const double mean_x = mean_of(x);
    const double mean_y = mean_of(y);
    exact_sum sum;
    exact_sum left_x;
    exact_sum left_y;
    for (std::size_t i = 0; i < x.size(); ++i) {
        sum.add((x[i] - mean_x) * (y[i] - mean_y));
        left_x.add(x[i] - mean_x);
        left_y.add(y[i] - mean_y);
    }
    const double count = static_cast<double>(x.size());
    return x.empty() ? 0.0 : sum.value() - left_x.value() * left_y.value() / count;
}

inline double square_sum(const std::vector<double>& x) { return product_sum(x, x); }

} // namespace tarewell::audit
