#pragma once

#include "audit/hub_preconditioner.hpp"
#include "audit/sparse_matrix.hpp"

namespace tarewell::audit {

// out = z * x for several vectors at once; x and out hold one vector a column. The columns are
// taken in strips of fixed width, since most of the time goes into fetching x's scattered rows.
void multiply_all(const sparse_rows& z, const row_matrix& x, row_matrix& out);

} // namespace tarewell::audit
