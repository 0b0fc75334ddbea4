#pragma once

#include <cstddef>

// The dense arithmetic of a supernodal factor: nine tenths of an audit's time. It is built twice, for every processor
// and for those with AVX2 and FMA, and the better one that the processor has is taken. They differ in the last bits.
namespace tarewell::audit {

// Matrices lie column by column.
struct factor_kernels {
    // Cholesky of the first `width` columns of a front (height x height, its lower triangle), and the update of what
    // lies below them. Returns the log determinant of the corner; NaN when a pivot is not positive.
    double (*eliminate)(double* front, std::ptrdiff_t height, std::ptrdiff_t width);
    // The inverse of a front from its panel of the factor (height x width), by Takahashi's equations: `front`
    // (height x height) comes with its bottom right corner known.
    void (*invert)(double* front, const double* panel, std::ptrdiff_t height, std::ptrdiff_t width);
};

const factor_kernels& plain_kernels();
// Null where they were not built, or the processor does not have what they need.
const factor_kernels* avx2_kernels();

// The best that this processor has.
const factor_kernels& best_kernels();

} // namespace tarewell::audit
