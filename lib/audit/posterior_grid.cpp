#include "audit/posterior_grid.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace tarewell::audit {

namespace {

constexpr int lattice_nodes = 13;
constexpr double negligible = 8.0; // in log weight, where the lattice ends

class log_weight {
  public:
    log_weight(const mixed_solver& solver, double prior_scale, int threads)
        : solver_(&solver), prior_scale_(prior_scale), threads_(threads) {}

    double operator()(const std::vector<double>& theta) const {
        double prior = 0.0;
        for (const double ratio : theta) {
            prior += ratio * ratio / (2.0 * prior_scale_ * prior_scale_);
        }
        return -0.5 * solver_->evaluate(theta).marginal() - prior;
    }

    std::vector<double> operator()(const std::vector<std::vector<double>>& points) const {
        std::vector<double> values(points.size());
        for_each_index(static_cast<int>(points.size()), threads_, [&](int k) {
            const auto place = static_cast<std::size_t>(k);
            values[place] = (*this)(points[place]);
        });
        return values;
    }

  private:
    const mixed_solver* solver_;
    double prior_scale_;
    int threads_;
};

std::vector<grid_point> normalised(const std::vector<std::vector<double>>& points,
                                   const std::vector<double>& log_weights) {
    const double top = *std::max_element(log_weights.begin(), log_weights.end());
    std::vector<grid_point> grid;
    double sum = 0.0;
    for (std::size_t k = 0; k < points.size(); ++k) {
        const double weight = std::exp(log_weights[k] - top);
        if (weight > 1e-4) {
            grid.push_back({points[k], weight});
            sum += weight;
        }
    }
    for (auto& point : grid) {
        point.weight /= sum;
    }
    return grid;
}

// Where the weight along one axis has become negligible, walking from the mode.
double end_of_axis(const log_weight& weight, std::vector<double> point, std::size_t axis, double step, double top) {
    const double mode = point[axis];
    double reach = step;
    for (int tries = 0; tries < 40; ++tries) {
        point[axis] = std::max(mode + reach, 0.0);
        if (point[axis] == 0.0 || weight(point) < top - negligible) {
            break;
        }
        reach *= 1.4;
    }
    return point[axis];
}

std::vector<grid_point> lattice(const log_weight& weight, const std::vector<double>& mode,
                                const std::vector<double>& sd) {
    const double top = weight(mode);
    std::vector<std::vector<double>> points(1);
    for (std::size_t axis = 0; axis < mode.size(); ++axis) {
        const double high = end_of_axis(weight, mode, axis, 2.5 * sd[axis], top);
        const double low = end_of_axis(weight, mode, axis, -2.5 * sd[axis], top);
        std::vector<std::vector<double>> wider;
        for (const auto& shorter : points) {
            for (int k = 0; k < lattice_nodes; ++k) {
                wider.push_back(shorter);
                wider.back().push_back(low + (high - low) * (k + 0.5) / lattice_nodes);
            }
        }
        points = std::move(wider);
    }
    return normalised(points, weight(points));
}

// Directions in which the posterior has unit sd: the columns of the inverse root of its curvature
// (one or two ratios).
std::vector<std::vector<double>> unit_directions(const std::vector<double>& curvature, std::size_t size) {
    if (size == 1) {
        return {{1.0 / std::sqrt(curvature[0])}};
    }
    const double a = std::sqrt(curvature[0]);
    const double b = curvature[1] / a;
    const double c = std::sqrt(curvature[3] - b * b);
    return {{1.0 / a, 0.0}, {-b / (a * c), 1.0 / c}};
}

std::vector<grid_point> gauss_hermite(const log_weight& weight, const std::vector<double>& mode,
                                      const std::vector<std::vector<double>>& directions) {
    const std::vector<double> nodes{-std::sqrt(3.0), 0.0, std::sqrt(3.0)};
    const std::vector<double> shares{1.0 / 6.0, 2.0 / 3.0, 1.0 / 6.0};
    std::vector<std::vector<double>> points{mode};
    std::vector<double> rule{0.0}; // log of share over the normal density's shape
    for (const auto& direction : directions) {
        std::vector<std::vector<double>> wider;
        std::vector<double> wider_rule;
        for (std::size_t p = 0; p < points.size(); ++p) {
            for (std::size_t k = 0; k < nodes.size(); ++k) {
                wider.push_back(points[p]);
                for (std::size_t i = 0; i < mode.size(); ++i) {
                    wider.back()[i] += nodes[k] * direction[i];
                }
                wider_rule.push_back(rule[p] + std::log(shares[k]) + nodes[k] * nodes[k] / 2.0);
            }
        }
        points = std::move(wider);
        rule = std::move(wider_rule);
    }
    auto values = weight(points);
    std::transform(values.begin(), values.end(), rule.begin(), values.begin(), std::plus<>());
    return normalised(points, values);
}

} // namespace

std::vector<grid_point> posterior_grid(const mixed_solver& solver, const minimum& best, double prior_scale,
                                       int threads) {
    const auto size = best.point.size();
    if (size == 0) {
        return {{{}, 1.0}};
    }
    const log_weight weight(solver, prior_scale, threads);
    auto curvature = best.hessian;
    std::vector<double> sd(size);
    bool near_normal = size <= 2 && solver.rows() >= 5000;
    auto mode = best.point;
    for (std::size_t i = 0; i < size; ++i) {
        for (std::size_t j = 0; j < size; ++j) {
            curvature[i * size + j] *= 0.5; // of -log weight
        }
        curvature[i * size + i] += 1.0 / (prior_scale * prior_scale);
        // A mode beyond the prior's reach (no bundle scatter at all) is brought back into it.
        mode[i] = std::min(mode[i], 3.0 * prior_scale);
        sd[i] = 1.0 / std::sqrt(std::max(curvature[i * size + i], 0.25));
        near_normal = near_normal && mode[i] > 4.0 * sd[i];
    }
    if (size == 2) {
        near_normal = near_normal && curvature[0] * curvature[3] > 1.05 * curvature[1] * curvature[1];
    }
    return near_normal ? gauss_hermite(weight, mode, unit_directions(curvature, size)) : lattice(weight, mode, sd);
}

} // namespace tarewell::audit
