#include "audit/student_mixture.hpp"

#include <cmath>
#include <stdexcept>

#include <boost/math/distributions/students_t.hpp>

namespace tarewell::audit {

namespace {

constexpr double table_step = 0.02;
constexpr double table_end = 40.0;

} // namespace

student_table::student_table(double freedom) : freedom_(freedom) {
    if (!(freedom > 0.0)) {
        throw std::invalid_argument("degrees of freedom are above 0");
    }
    const boost::math::students_t student(freedom);
    const int count = static_cast<int>(table_end / table_step) + 2;
    for (int k = 0; k < count; ++k) {
        // Upper tails, so that small probabilities keep their digits.
        value_.push_back(cdf(complement(student, k * table_step)));
        slope_.push_back(-pdf(student, k * table_step) * table_step);
    }
}

double student_table::below(double t) const {
    const double size = std::abs(t);
    double tail = 0.0;
    if (size < table_end) {
        const double place = size / table_step;
        const auto k = static_cast<std::size_t>(place);
        const double u = place - static_cast<double>(k);
        const double v = 1.0 - u;
        tail = v * v * ((1.0 + 2.0 * u) * value_[k] + u * slope_[k]) +
               u * u * ((1.0 + 2.0 * v) * value_[k + 1] - v * slope_[k + 1]);
    } else if (std::isfinite(size)) {
        tail = cdf(complement(boost::math::students_t(freedom_), size));
    }
    return t > 0.0 ? 1.0 - tail : tail;
}

double mixture_below(const student_table& student, const std::vector<double>& weight, const std::vector<double>& mean,
                     const std::vector<double>& sd, double x) {
    double sum = 0.0;
    for (std::size_t i = 0; i < weight.size(); ++i) {
        if (sd[i] > 0.0) {
            sum += weight[i] * student.below((x - mean[i]) / sd[i]);
        } else {
            sum += x >= mean[i] ? weight[i] : 0.0;
        }
    }
    return sum;
}

double quantile_of(const std::function<double(double)>& below, double p, double centre, double width) {
    double low = centre - width;
    double high = centre + width;
    double at_low = below(low) - p;
    double at_high = below(high) - p;
    for (int k = 0; k < 200 && at_low > 0.0; ++k) {
        high = low;
        at_high = at_low;
        width *= 2.0;
        low -= width;
        at_low = below(low) - p;
    }
    for (int k = 0; k < 200 && at_high < 0.0; ++k) {
        low = high;
        at_low = at_high;
        width *= 2.0;
        high += width;
        at_high = below(high) - p;
    }
    // Regula falsi, the stale end halved (Illinois), a bisection whenever that is slow.
    int side = 0;
    for (int k = 0; k < 100 && high - low > 1e-9 * width; ++k) {
        double x = (low * at_high - high * at_low) / (at_high - at_low);
        if (k % 8 == 7 || !(x > low && x < high)) {
            x = 0.5 * (low + high);
        }
        const double value = below(x) - p;
        if (std::abs(value) < 1e-10) {
            return x;
        }
        if (value < 0.0) {
            low = x;
            at_low = value;
            at_high *= side == -1 ? 0.5 : 1.0;
            side = -1;
        } else {
            high = x;
            at_high = value;
            at_low *= side == 1 ? 0.5 : 1.0;
            side = 1;
        }
    }
    return 0.5 * (low + high);
}

} // namespace tarewell::audit
