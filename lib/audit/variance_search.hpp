#pragma once

#include "audit/minimise.hpp"
#include "audit/mixed_solver.hpp"

namespace tarewell::audit {

// theta above this is "no residual" for all purposes.
inline constexpr double largest_theta = 1e4;

// The REML minimum over theta. `start` may be empty (a coarse grid is tried) or a good guess.
minimum find_variances(const mixed_solver& solver, int threads, const std::vector<double>& start = {});

} // namespace tarewell::audit
