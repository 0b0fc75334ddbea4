#include "audit/mixed_solver.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <stdexcept>

#include <Eigen/Cholesky>
#include <Eigen/Core>

namespace tarewell::audit {

namespace {

using matrix = Eigen::MatrixXd;
using vector_view = Eigen::Map<Eigen::VectorXd>;
using const_vector_view = Eigen::Map<const Eigen::VectorXd>;
using const_matrix_view = Eigen::Map<const matrix>;

constexpr double two_pi = 6.283185307179586476925286766559;

std::size_t at(std::int64_t offset) { return static_cast<std::size_t>(offset); }

const_vector_view view(const std::vector<double>& values) {
    return {values.data(), static_cast<Eigen::Index>(values.size())};
}

const_matrix_view view(const std::vector<double>& values, Eigen::Index columns) {
    return {values.data(), static_cast<Eigen::Index>(values.size()) / columns, columns};
}

template <typename expression> std::vector<double> to_vector(const expression& values) {
    const matrix held = values;
    return {held.data(), held.data() + held.size()};
}

std::vector<double> transposed_times(const sparse_rows& z, const double* x) {
    std::vector<double> result(at(z.columns), 0.0);
    for (int r = 0; r < z.rows; ++r) {
        for (auto k = z.start[at(r)]; k < z.start[at(r + 1)]; ++k) {
            result[at(z.column[at(k)])] += z.value[at(k)] * x[r];
        }
    }
    return result;
}

} // namespace

double bilinear(const std::vector<double>& m, const double* d, const double* e, int size) {
    double sum = 0.0;
    for (int j = 0; j < size; ++j) {
        for (int i = 0; i < size; ++i) {
            sum += d[i] * m[at(j * size + i)] * e[j];
        }
    }
    return sum;
}

double mixed_state::criterion() const {
    const double dof = freedom;
    return log_det_random + log_det_fixed + dof * (1.0 + std::log(two_pi * residual / dof));
}

double mixed_state::marginal() const {
    return log_det_random + log_det_fixed + static_cast<double>(freedom) * std::log(residual);
}

mixed_solver::mixed_solver(mixed_design design, const sparse_rows& reserved, const factor_limits& limits,
                           const iterative_settings& iterative)
    : design_(std::move(design)) {
    const auto x = view(design_.x, design_.fixed);
    if (x.rows() != rows() || design_.z.rows != rows() || rows() <= design_.fixed) {
        throw std::invalid_argument("a mixed model needs more rows than fixed effects");
    }
    // The search for one variance ratio looks at some 20 points, that for two at some 60.
    auto within = limits;
    within.multiplications = std::min(limits.multiplications, limits.effort / (design_.blocks <= 1 ? 20.0 : 60.0));
    system_ = make_direct_system(design_.z, reserved, within);
    if (!system_) {
        system_ = make_iterative_system(design_.z, iterative);
    }
    xtx_ = to_vector(x.transpose() * x);
    const matrix least = view(xtx_, design_.fixed).ldlt().solve(x.transpose() * view(design_.y));
    beta_start_ = to_vector(least);
    y_ = to_vector(view(design_.y) - x * least);
    xty_ = to_vector(x.transpose() * view(y_));
    zty_ = transposed_times(design_.z, y_.data());
    for (int c = 0; c < design_.fixed; ++c) {
        const auto column = transposed_times(design_.z, design_.x.data() + at(c) * at(rows()));
        ztx_.insert(ztx_.end(), column.begin(), column.end());
    }
}

std::vector<double> mixed_solver::scale_of(const std::vector<double>& theta) const {
    std::vector<double> scale(design_.block_of.size());
    std::transform(design_.block_of.begin(), design_.block_of.end(), scale.begin(),
                   [&](int block) { return theta[at(block)]; });
    return scale;
}

mixed_state mixed_solver::evaluate(const std::vector<double>& theta, wanted what) const {
    mixed_state state;
    const int fixed = design_.fixed;
    const Eigen::Index effects = design_.z.columns;
    state.theta = theta;
    state.freedom = rows() - fixed;
    const auto scale = scale_of(theta);
    state.factor = system_->factor(scale, what);
    state.log_det_random = state.factor->log_determinant();
    state.log_det_random_error = state.factor->log_determinant_error();

    matrix right(effects, fixed + 1);
    right.leftCols(fixed) = Eigen::Map<const matrix>(ztx_.data(), effects, fixed);
    right.col(fixed) = view(zty_);
    right.array().colwise() *= view(scale).array();
    std::vector<double> solved(right.data(), right.data() + right.size());
    state.factor->solve(solved, fixed + 1);
    const Eigen::Map<const matrix> inverse_right(solved.data(), effects, fixed + 1);

    const matrix inner = view(xtx_, fixed) - right.leftCols(fixed).transpose() * inverse_right.leftCols(fixed);
    const Eigen::LLT<matrix> inner_factor(inner);
    if (inner_factor.info() != Eigen::Success) {
        throw std::runtime_error("the fixed effects cannot be told apart");
    }
    state.log_det_fixed = 2.0 * matrix(inner_factor.matrixL()).diagonal().array().log().sum();
    state.fixed_inverse = to_vector(inner_factor.solve(matrix::Identity(fixed, fixed)));
    const Eigen::VectorXd beta =
        inner_factor.solve(view(xty_) - right.leftCols(fixed).transpose() * inverse_right.col(fixed));
    const Eigen::VectorXd spherical = inverse_right.col(fixed) - inverse_right.leftCols(fixed) * beta;
    state.effects = to_vector((spherical.array() * view(scale).array()).matrix());
    state.carry = to_vector((inverse_right.leftCols(fixed).array().colwise() * view(scale).array()).matrix());

    std::vector<double> fitted;
    multiply(design_.z, state.effects, fitted);
    const Eigen::VectorXd left = view(y_) - view(design_.x, fixed) * beta - view(fitted);
    state.residual = left.squaredNorm() + spherical.squaredNorm();
    state.beta = to_vector(view(beta_start_) + beta);
    return state;
}

mixed_forms mixed_solver::make_forms(std::vector<double> fixed, sparse_rows random) const {
    return {std::move(fixed), system_->make_ready(std::move(random))};
}

form_values mixed_solver::value(const mixed_state& state, const mixed_forms& forms) const {
    const auto& random = forms.random.forms;
    const int fixed = design_.fixed;
    const auto effects = at(design_.z.columns);
    form_values values;
    multiply(random, state.effects, values.random_mean);
    values.own = state.factor->form_variances(forms.random);
    values.fixed_mean.assign(at(random.rows), 0.0);
    values.random_slope.assign(at(random.rows) * at(fixed), 0.0);
    for (int f = 0; f < random.rows; ++f) {
        for (int c = 0; c < fixed; ++c) {
            const auto place = at(f) * at(fixed) + at(c);
            values.fixed_mean[at(f)] += forms.fixed[place] * state.beta[at(c)];
            for (auto k = random.start[at(f)]; k < random.start[at(f + 1)]; ++k) {
                values.random_slope[place] -=
                    random.value[at(k)] * state.carry[at(c) * effects + at(random.column[at(k)])];
            }
        }
    }
    return values;
}

double mixed_solver::solve_form(const mixed_state& state, const std::vector<double>& x, const std::vector<double>& a,
                                std::vector<double>& solved, std::vector<double>& slope) const {
    const auto scale = scale_of(state.theta);
    solved.resize(a.size());
    std::transform(a.begin(), a.end(), scale.begin(), solved.begin(), std::multiplies<>());
    state.factor->solve(solved, 1);
    std::transform(solved.begin(), solved.end(), scale.begin(), solved.begin(), std::multiplies<>());
    slope = x;
    for (int c = 0; c < design_.fixed; ++c) {
        const auto begin = state.carry.begin() + static_cast<std::ptrdiff_t>(at(c) * a.size());
        slope[at(c)] -= std::inner_product(a.begin(), a.end(), begin, 0.0);
    }
    return std::inner_product(a.begin(), a.end(), solved.begin(), 0.0) +
           bilinear(state.fixed_inverse, slope.data(), slope.data(), design_.fixed);
}

} // namespace tarewell::audit
