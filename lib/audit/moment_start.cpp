#include "audit/moment_start.hpp"

#include <algorithm>
#include <cmath>

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <Eigen/LU>

namespace tarewell::audit {

namespace {

using matrix = Eigen::MatrixXd;

constexpr double least_ratio = 0.02;
constexpr double largest_ratio = 5.0;

std::size_t at(std::int64_t offset) { return static_cast<std::size_t>(offset); }

// Z_k (Z_k' x), Z_k the columns of one block.
matrix through_block(const mixed_design& design, int block, const matrix& x) {
    const auto& z = design.z;
    const auto each = [&](auto&& visit) {
        for (int r = 0; r < z.rows; ++r) {
            for (auto k = z.start[at(r)]; k < z.start[at(r) + 1]; ++k) {
                if (design.block_of[at(z.column[at(k)])] == block) {
                    visit(r, z.column[at(k)], z.value[at(k)]);
                }
            }
        }
    };
    matrix inner = matrix::Zero(z.columns, x.cols());
    matrix result = matrix::Zero(z.rows, x.cols());
    each([&](int row, int column, double value) { inner.row(column) += value * x.row(row); });
    each([&](int row, int column, double value) { result.row(row) += value * inner.row(column); });
    return result;
}

// Sums of squares of Z'Z by pair of blocks, and of its diagonal by block in the first column.
matrix gram_sums(const mixed_design& design) {
    const auto gram = cross_product(design.z);
    matrix sums = matrix::Zero(design.blocks + 1, design.blocks + 1);
    for (int j = 0; j < gram.size; ++j) {
        for (auto k = gram.start[at(j)]; k < gram.start[at(j) + 1]; ++k) {
            const int i = gram.row[at(k)];
            const int a = design.block_of[at(i)] + 1;
            const int b = design.block_of[at(j)] + 1;
            const double square = gram.value[at(k)] * gram.value[at(k)];
            sums(a, b) += square;
            sums(b, a) += i == j ? 0.0 : square;
            sums(a, 0) += i == j ? gram.value[at(k)] : 0.0;
        }
    }
    return sums;
}

} // namespace

std::vector<double> moment_start(const mixed_design& design) {
    const auto rows = static_cast<Eigen::Index>(design.y.size());
    const Eigen::Map<const matrix> x(design.x.data(), rows, design.fixed);
    const Eigen::Map<const Eigen::VectorXd> y(design.y.data(), rows);
    const Eigen::LLT<matrix> factor(x.transpose() * x);
    if (factor.info() != Eigen::Success || design.blocks == 0) {
        return {};
    }
    // x times the inverse of its own triangle: orthonormal columns of the same span.
    const matrix basis = factor.matrixL().solve(x.transpose()).transpose();
    const Eigen::VectorXd left = y - basis * (basis.transpose() * y);

    const auto sums = gram_sums(design);
    const Eigen::Index size = design.blocks + 1;
    std::vector<matrix> spread{basis};
    Eigen::VectorXd forms(size);
    forms(0) = left.squaredNorm();
    for (int block = 0; block < design.blocks; ++block) {
        spread.push_back(through_block(design, block, basis));
        forms(block + 1) = left.dot(through_block(design, block, left).col(0));
    }
    matrix expected(size, size);
    for (Eigen::Index i = 0; i < size; ++i) {
        for (Eigen::Index j = 0; j <= i; ++j) {
            const auto& a = spread[at(i)];
            const auto& b = spread[at(j)];
            const matrix inside_a = basis.transpose() * a;
            const matrix inside_b = basis.transpose() * b;
            const double trace = i == 0 ? static_cast<double>(rows) : sums(i, j);
            expected(i, j) = trace - 2.0 * a.cwiseProduct(b).sum() + inside_a.cwiseProduct(inside_b.transpose()).sum();
            expected(j, i) = expected(i, j);
        }
    }
    const Eigen::VectorXd variance = expected.fullPivLu().solve(forms);
    if (!variance.allFinite() || !(variance(0) > 0.0)) {
        return {};
    }
    std::vector<double> ratios;
    for (Eigen::Index k = 1; k < size; ++k) {
        const double ratio = std::sqrt(std::max(variance(k), 0.0) / variance(0));
        ratios.push_back(std::clamp(ratio, least_ratio, largest_ratio));
    }
    return ratios;
}

} // namespace tarewell::audit
