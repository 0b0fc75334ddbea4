#include "audit/minimise.hpp"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <exception>
#include <limits>
#include <mutex>
#include <stdexcept>
#include <thread>

#include <Eigen/Cholesky>
#include <Eigen/Core>

namespace tarewell::audit {

namespace {

using point = std::vector<double>;

struct local_model {
    point gradient;
    std::vector<double> hessian;
};

// Solves (H + shift I) step = -gradient; false when the matrix is not positive definite.
bool newton_step(const local_model& model, double shift, point& step) {
    const auto size = static_cast<Eigen::Index>(model.gradient.size());
    Eigen::MatrixXd shifted = Eigen::Map<const Eigen::MatrixXd>(model.hessian.data(), size, size);
    shifted.diagonal().array() += shift;
    const Eigen::LLT<Eigen::MatrixXd> factor(shifted);
    if (factor.info() != Eigen::Success) {
        return false;
    }
    step.resize(model.gradient.size());
    Eigen::Map<Eigen::VectorXd>(step.data(), size) =
        factor.solve(-Eigen::Map<const Eigen::VectorXd>(model.gradient.data(), size));
    return true;
}

// Gradient and Hessian by differences around `centre`: the diagonal to second order, or `fine`, for
// the last digits, to fourth.
local_model differences(const batch_function& function, const point& centre, double value, bool fine) {
    const auto size = centre.size();
    std::vector<double> h(size);
    std::vector<point> points;
    const std::vector<double> stencil =
        fine ? std::vector<double>{1.0, -1.0, 2.0, -2.0} : std::vector<double>{1.0, -1.0};
    const auto width = stencil.size();
    for (std::size_t i = 0; i < size; ++i) {
        h[i] = 2e-3 * std::max(centre[i], 0.1);
        for (const double times : stencil) {
            points.push_back(centre);
            points.back()[i] = std::abs(centre[i] + times * h[i]);
        }
    }
    for (std::size_t i = 0; i < size; ++i) {
        for (std::size_t j = i + 1; j < size; ++j) {
            points.push_back(centre);
            points.back()[i] += h[i];
            points.back()[j] += h[j];
        }
    }
    const auto values = function(points);
    local_model model{point(size), std::vector<double>(size * size)};
    for (std::size_t i = 0; i < size; ++i) {
        const double* v = values.data() + width * i;
        if (fine) {
            model.gradient[i] = (8.0 * (v[0] - v[1]) - (v[2] - v[3])) / (12.0 * h[i]);
            model.hessian[i * size + i] = (16.0 * (v[0] + v[1]) - (v[2] + v[3]) - 30.0 * value) / (12.0 * h[i] * h[i]);
        } else {
            model.gradient[i] = (v[0] - v[1]) / (2.0 * h[i]);
            model.hessian[i * size + i] = (v[0] + v[1] - 2.0 * value) / (h[i] * h[i]);
        }
    }
    std::size_t next = width * size;
    for (std::size_t i = 0; i < size; ++i) {
        for (std::size_t j = i + 1; j < size; ++j) {
            // f(+,+) less the one-coordinate parts leaves h_i h_j H_ij to first order.
            const double cross = (values[next++] - values[width * i] - values[width * j] + value) / (h[i] * h[j]);
            model.hessian[i * size + j] = cross;
            model.hessian[j * size + i] = cross;
        }
    }
    return model;
}

// A Newton step, shifted until it goes down and is no longer than the radius allows.
point limited_step(const local_model& model, const point& centre, double radius) {
    point step;
    double shift = 0.0;
    double trace = 0.0;
    const auto size = centre.size();
    for (std::size_t i = 0; i < size; ++i) {
        trace += std::abs(model.hessian[i * size + i]);
    }
    for (int tries = 0; tries < 60; ++tries) {
        if (newton_step(model, shift, step)) {
            break;
        }
        shift = shift == 0.0 ? 1e-3 * trace + 1e-12 : 4.0 * shift;
    }
    double longest = 0.0;
    for (std::size_t i = 0; i < size; ++i) {
        longest = std::max(longest, std::abs(step[i]) / std::max(centre[i], 0.2));
    }
    if (longest > radius) {
        for (auto& part : step) {
            part *= radius / longest;
        }
    }
    return step;
}

point moved(const point& centre, const point& step, double largest) {
    point next(centre.size());
    for (std::size_t i = 0; i < centre.size(); ++i) {
        next[i] = std::min(std::abs(centre[i] + step[i]), largest);
        if (next[i] < 1e-7) {
            next[i] = 0.0;
        }
    }
    return next;
}

// Tries exact zeros for coordinates that ended next to one.
void settle_at_zero(const batch_function& function, minimum& best) {
    for (std::size_t i = 0; i < best.point.size(); ++i) {
        if (best.point[i] == 0.0 || best.point[i] > 0.02) {
            continue;
        }
        auto at_zero = best.point;
        at_zero[i] = 0.0;
        const double value = function({at_zero})[0];
        ++best.evaluations;
        if (value <= best.value + 1e-10 * (1.0 + std::abs(best.value))) {
            best.point = at_zero;
            best.value = std::min(value, best.value);
        }
    }
}

} // namespace

minimum minimise_even(const batch_function& function, const std::vector<std::vector<double>>& starts, double largest,
                      bool noisy) {
    if (starts.empty()) {
        throw std::invalid_argument("a minimum needs a point to start from");
    }
    const auto first = function(starts);
    const auto lowest = std::min_element(first.begin(), first.end());
    minimum best;
    best.point = starts[static_cast<std::size_t>(lowest - first.begin())];
    best.value = *lowest;
    best.evaluations = static_cast<int>(starts.size());
    const auto size = best.point.size();
    double radius = 0.7;
    bool fine = false;
    for (int iteration = 0; iteration < 60 && size > 0 && !best.converged; ++iteration) {
        const auto model = differences(function, best.point, best.value, fine);
        best.evaluations += static_cast<int>((fine ? 4 : 2) * size + size * (size - 1) / 2);
        best.hessian = model.hessian;
        bool went_down = false;
        while (!went_down && !best.converged) {
            const auto step = limited_step(model, best.point, radius);
            const auto next = moved(best.point, step, largest);
            double relative = 0.0;
            for (std::size_t i = 0; i < size; ++i) {
                relative = std::max(relative, std::abs(next[i] - best.point[i]) / std::max(next[i], 0.05));
            }
            const double value = function({next})[0];
            ++best.evaluations;
            // Differences of the criterion carry about 12 digits: below that, the step decides.
            const double noise = 1e-12 * (1.0 + std::abs(best.value));
            went_down = value <= best.value + noise;
            if (went_down) {
                best.point = next;
                best.value = value;
                radius = std::min(2.0 * radius, 1.5);
            } else {
                radius *= 0.25;
            }
            const double enough = noisy ? 1e-3 : fine ? 2e-7 : 2e-2;
            const bool small = relative < enough || radius < (noisy ? 1e-4 : 1e-9);
            best.converged = (fine || noisy) && small;
            if (!best.converged && small) {
                fine = true;
                radius = 0.7;
                break;
            }
        }
    }
    settle_at_zero(function, best);
    best.converged = best.converged || size == 0;
    return best;
}

void for_each_index(int count, int threads, const std::function<void(int)>& work) {
    std::atomic<int> next{0};
    std::exception_ptr failure;
    std::mutex guard;
    const auto run = [&] {
        for (int k = next++; k < count; k = next++) {
            try {
                work(k);
            } catch (...) {
                const std::lock_guard<std::mutex> lock(guard);
                failure = std::current_exception();
            }
        }
    };
    std::vector<std::thread> others;
    for (int t = 1; t < std::min(threads, count); ++t) {
        others.emplace_back(run);
    }
    run();
    for (auto& other : others) {
        other.join();
    }
    if (failure) {
        std::rethrow_exception(failure);
    }
}

} // namespace tarewell::audit
