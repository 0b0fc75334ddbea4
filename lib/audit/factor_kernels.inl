// Included by factor_kernels_plain.cpp and factor_kernels_avx2.cpp, which name the namespace.
#include "audit/factor_kernels.hpp"

#include <limits>

#include <Eigen/Cholesky>
#include <Eigen/Core>

namespace tarewell::audit::TAREWELL_KERNELS {

namespace {

using matrix = Eigen::MatrixXd;
using matrix_view = Eigen::Map<matrix>;
using const_matrix_view = Eigen::Map<const matrix>;

double eliminate(double* values, std::ptrdiff_t height, std::ptrdiff_t width) {
    matrix_view front(values, height, height);
    const auto below = height - width;
    Eigen::Ref<matrix> corner = front.topLeftCorner(width, width);
    const Eigen::LLT<Eigen::Ref<matrix>> factor(corner);
    if (factor.info() != Eigen::Success) {
        return std::numeric_limits<double>::quiet_NaN();
    }
    if (below > 0) {
        auto panel = front.bottomLeftCorner(below, width);
        corner.triangularView<Eigen::Lower>().transpose().solveInPlace<Eigen::OnTheRight>(panel);
        front.bottomRightCorner(below, below).selfadjointView<Eigen::Lower>().rankUpdate(panel, -1.0);
    }
    return 2.0 * corner.diagonal().array().log().sum();
}

void invert(double* values, const double* of_factor, std::ptrdiff_t height, std::ptrdiff_t width) {
    matrix_view front(values, height, height);
    const const_matrix_view panel(of_factor, height, width);
    const auto below = height - width;
    matrix own = matrix::Identity(width, width);
    panel.topRows(width).triangularView<Eigen::Lower>().solveInPlace(own);
    front.topLeftCorner(width, width).noalias() = own.transpose() * own;
    if (below > 0) {
        const matrix ratio = panel.bottomRows(below) * own; // L21 L11^-1
        front.bottomLeftCorner(below, width).noalias() = -front.bottomRightCorner(below, below) * ratio;
        front.topLeftCorner(width, width).noalias() -= ratio.transpose() * front.bottomLeftCorner(below, width);
        front.topRightCorner(width, below) = front.bottomLeftCorner(below, width).transpose();
    }
}

} // namespace

extern const factor_kernels kernels;
const factor_kernels kernels{eliminate, invert};

} // namespace tarewell::audit::TAREWELL_KERNELS
