#pragma once

#include <vector>

#include "audit/mixed_solver.hpp"

namespace tarewell::audit {

// Ratios of standard deviations, sd of block over sd of rows, by moments: quadratic forms of the
// least-squares residuals set equal to what the model expects of them (MINQUE with weights 0,
// Rao 1971, J. Multivariate Anal. 1). No matrix is factored, so this is cheap where an evaluation
// is dear, and close enough to begin from. Empty when the moments say nothing.
std::vector<double> moment_start(const mixed_design& design);

} // namespace tarewell::audit
