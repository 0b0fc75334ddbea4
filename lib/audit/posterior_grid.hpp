#pragma once

#include <vector>

#include "audit/minimise.hpp"
#include "audit/mixed_solver.hpp"

namespace tarewell::audit {

struct grid_point {
    std::vector<double> theta;
    double weight = 0.0; // the weights of a grid sum to 1
};

// Points and weights that integrate over theta = sd ratios with the weights
// |L|^-1 |Rx|^-1 r^-(n-p) and half-normal priors of the given scale. `best` is the REML minimum.
// Points that carry less than 1e-4 of the largest weight are dropped. Many rows whose variance
// ratios are far from 0 get a 3-point Gauss-Hermite rule in each direction, else a lattice of
// `nodes` midpoints a direction.
std::vector<grid_point> posterior_grid(const mixed_solver& solver, const minimum& best, double prior_scale,
                                       int threads);

} // namespace tarewell::audit
