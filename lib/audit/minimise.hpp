#pragma once

#include <functional>
#include <vector>

namespace tarewell::audit {

// Values of a function at many points; may be evaluated in any order or in parallel.
using batch_function = std::function<std::vector<double>(const std::vector<std::vector<double>>& points)>;

struct minimum {
    std::vector<double> point; // every coordinate >= 0
    double value = 0.0;
    std::vector<double> hessian; // by columns, by central differences
    int evaluations = 0;
    bool converged = false;
};

// Least value of a smooth function that is even in every coordinate (a variance ratio's square
// root), so a bound at 0 is an ordinary stationary point. Starts from the best point of `starts`,
// then Newton steps by differences with a trust radius. Coordinates are held under `largest`.
// `noisy`: the function is itself approximate, so three digits of the point are enough.
// Throws std::invalid_argument when `starts` is empty.
minimum minimise_even(const batch_function& function, const std::vector<std::vector<double>>& starts, double largest,
                      bool noisy = false);

// Values of `function` for 0 .. count - 1 spread over `threads` threads; the order of results
// does not depend on the threads.
void for_each_index(int count, int threads, const std::function<void(int)>& work);

} // namespace tarewell::audit
