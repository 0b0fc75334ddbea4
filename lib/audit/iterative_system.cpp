#include <algorithm>
#include <cmath>
#include <numeric>

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <Eigen/Eigenvalues>

#include "audit/hub_preconditioner.hpp"
#include "audit/random.hpp"
#include "audit/ridge_system.hpp"
#include "audit/wide_multiply.hpp"

namespace tarewell::audit {

namespace {

using matrix = Eigen::MatrixXd;

std::size_t at(std::int64_t offset) { return static_cast<std::size_t>(offset); }

struct shared_parts {
    sparse_rows z;
    sparse_rows z_by_column;
    symmetric_lower gram;
    hub_pattern hubs;
    row_matrix signs; // probes of +-1, one a column
    iterative_settings settings;
};

class iterative_factor final : public ridge_factor {
  public:
    iterative_factor(const shared_parts& parts, const std::vector<double>& scale, wanted what)
        : parts_(parts),
          scale_(Eigen::Map<const Eigen::VectorXd>(scale.data(), static_cast<Eigen::Index>(scale.size()))),
          preconditioner_(parts.hubs, parts.gram, scale_), diagonal_(preconditioner_.diagonal()) {
        if (what == wanted::all) {
            estimate_log_determinant();
        }
    }

    double log_determinant() const override { return log_determinant_; }
    double log_determinant_error() const override { return log_determinant_error_; }

    void solve(std::vector<double>& b, int columns) const override {
        Eigen::Map<matrix> right(b.data(), scale_.size(), columns);
        row_matrix x = right;
        solve_all(x, parts_.settings.tolerance);
        right = x;
    }

    std::vector<double> form_variances(const ready_forms& ready) const override;

  private:
    void apply(const row_matrix& x, row_matrix& out) const {
        row_matrix rows;
        const row_matrix scaled = x.array().colwise() * scale_.array();
        multiply_all(parts_.z, scaled, rows);
        multiply_all(parts_.z_by_column, rows, out);
        out = (out.array().colwise() * scale_.array()).matrix() + x;
    }

    void solve_all(row_matrix& b, double tolerance) const;
    void estimate_log_determinant();
    double cell(int i, int j) const;

    const shared_parts& parts_;
    Eigen::VectorXd scale_;
    hub_preconditioner preconditioner_;
    const Eigen::VectorXd& diagonal_;
    double log_determinant_ = 0.0;
    double log_determinant_error_ = 0.0;
};

// Preconditioned conjugate gradients, all right sides side by side.
void iterative_factor::solve_all(row_matrix& b, double tolerance) const {
    row_matrix x = row_matrix::Zero(b.rows(), b.cols());
    row_matrix residual = b;
    row_matrix direction = residual;
    const auto precondition = [&](row_matrix& values) {
        preconditioner_.half(values);
        preconditioner_.half_transposed(values);
    };
    precondition(direction);
    row_matrix image;
    const auto products = [](const row_matrix& left, const row_matrix& right) {
        return Eigen::RowVectorXd(left.cwiseProduct(right).colwise().sum());
    };
    Eigen::RowVectorXd rho = products(residual, direction);
    const Eigen::RowVectorXd stop = rho * tolerance * tolerance;
    for (int iteration = 0; iteration < 1000 && (rho.array() > stop.array()).any(); ++iteration) {
        apply(direction, image);
        const Eigen::RowVectorXd curvature = products(direction, image);
        const Eigen::RowVectorXd step = (curvature.array() > 0.0).select(rho.array() / curvature.array(), 0.0);
        x += direction * step.asDiagonal();
        residual -= image * step.asDiagonal();
        image = residual;
        precondition(image);
        const Eigen::RowVectorXd next = products(residual, image);
        const Eigen::RowVectorXd ratio = (rho.array() > 0.0).select(next.array() / rho.array(), 0.0);
        direction = image + direction * ratio.asDiagonal();
        rho = next;
    }
    b = x;
}

// log|A| = log|M| + trace log(L^-1 A L^-T), M = L L', the trace by Lanczos from the probes.
void iterative_factor::estimate_log_determinant() {
    const auto probes = parts_.signs.cols();
    const double size = static_cast<double>(diagonal_.size());
    const Eigen::Index most = std::min<Eigen::Index>(parts_.settings.steps, diagonal_.size());
    matrix alpha = matrix::Zero(most, probes);
    matrix beta = matrix::Zero(most, probes);
    row_matrix current = parts_.signs / std::sqrt(size);
    row_matrix previous = row_matrix::Zero(current.rows(), probes);
    row_matrix image;
    Eigen::Index steps = 0;
    for (; steps < most; ++steps) {
        row_matrix spread = current;
        preconditioner_.half_transposed(spread);
        apply(spread, image);
        preconditioner_.half(image);
        if (steps > 0) {
            image -= previous * beta.row(steps - 1).asDiagonal();
        }
        alpha.row(steps) = image.cwiseProduct(current).colwise().sum();
        image -= current * alpha.row(steps).asDiagonal();
        beta.row(steps) = image.colwise().norm();
        if (beta.row(steps).maxCoeff() < 1e-8) {
            ++steps;
            break;
        }
        previous = current;
        const Eigen::RowVectorXd inverse = beta.row(steps).array().max(1e-300).inverse();
        current = image * inverse.asDiagonal();
    }
    Eigen::VectorXd trace(probes);
    for (Eigen::Index p = 0; p < probes; ++p) {
        Eigen::SelfAdjointEigenSolver<matrix> solver;
        const Eigen::VectorXd off = beta.col(p).head(steps - 1);
        solver.computeFromTridiagonal(alpha.col(p).head(steps), off);
        trace(p) = size * (solver.eigenvectors().row(0).array().square() *
                           solver.eigenvalues().transpose().array().max(1e-300).log())
                              .sum();
    }
    const double mean = trace.mean();
    const double count = static_cast<double>(probes);
    log_determinant_ = preconditioner_.log_determinant() + mean;
    log_determinant_error_ = std::sqrt((trace.array() - mean).square().sum() / (count * (count - 1.0)));
}

double iterative_factor::cell(int i, int j) const {
    const auto [low, high] = std::minmax(i, j);
    if (low == high) {
        return diagonal_(low);
    }
    const auto& gram = parts_.gram;
    const auto begin = gram.row.begin() + gram.start[at(low)];
    const auto end = gram.row.begin() + gram.start[at(low + 1)];
    const auto found = std::lower_bound(begin, end, high);
    if (found == end || *found != high) {
        return 0.0;
    }
    return scale_(low) * scale_(high) * gram.value[at(found - gram.row.begin())];
}

// Var a'x = E Var(a'x | rest) + Var E(a'x | rest), x ~ N(0, A^-1): the first part exactly from
// A's block of the form's own effects, the second, small, from draws.
std::vector<double> iterative_factor::form_variances(const ready_forms& ready) const {
    const auto& forms = ready.forms;
    const Eigen::Index size = scale_.size();
    seeded_random random(parts_.settings.seed + 1);
    row_matrix draws(size, parts_.settings.samples);
    row_matrix noise(parts_.z.rows, parts_.settings.samples);
    const auto fill = [&](row_matrix& values) {
        std::generate(values.data(), values.data() + values.size(), [&] { return random.normal(); });
    };
    fill(draws);
    fill(noise);
    row_matrix carried;
    multiply_all(parts_.z_by_column, noise, carried);
    draws += (carried.array().colwise() * scale_.array()).matrix(); // ~ N(0, A)
    const row_matrix image = draws;
    solve_all(draws, 1e-5); // ~ N(0, A^-1)
    std::vector<double> variance(at(forms.rows), 0.0);
    for (int f = 0; f < forms.rows; ++f) {
        const auto begin = forms.start[at(f)];
        const auto count = forms.start[at(f + 1)] - begin;
        if (count == 0) {
            continue;
        }
        matrix block(count, count);
        Eigen::VectorXd a(count);
        for (Eigen::Index k = 0; k < count; ++k) {
            const int column = forms.column[at(begin + k)];
            a(k) = forms.value[at(begin + k)] * scale_(column);
            for (Eigen::Index m = 0; m < count; ++m) {
                block(k, m) = cell(column, forms.column[at(begin + m)]);
            }
        }
        const Eigen::VectorXd weights = block.ldlt().solve(a);
        Eigen::RowVectorXd conditional = Eigen::RowVectorXd::Zero(draws.cols());
        for (Eigen::Index k = 0; k < count; ++k) {
            const int column = forms.column[at(begin + k)];
            conditional += a(k) * draws.row(column) - weights(k) * image.row(column);
        }
        variance[at(f)] = a.dot(weights) + conditional.squaredNorm() / static_cast<double>(draws.cols());
    }
    return variance;
}

class iterative_system final : public ridge_system {
  public:
    iterative_system(const sparse_rows& z, const iterative_settings& settings) {
        parts_.z = z;
        parts_.z_by_column = transpose(z);
        parts_.gram = cross_product(z);
        parts_.hubs = find_hubs(parts_.z_by_column, parts_.gram);
        parts_.settings = settings;
        seeded_random random(settings.seed);
        parts_.signs.resize(z.columns, settings.probes);
        std::generate(parts_.signs.data(), parts_.signs.data() + parts_.signs.size(),
                      [&] { return (random.bits() >> 63U) != 0 ? 1.0 : -1.0; });
    }

    bool approximate() const override { return true; }

    std::unique_ptr<ridge_factor> factor(const std::vector<double>& scale, wanted what) const override {
        return std::make_unique<iterative_factor>(parts_, scale, what);
    }

    ready_forms make_ready(sparse_rows forms) const override {
        ready_forms ready;
        ready.forms = std::move(forms);
        return ready;
    }

  private:
    shared_parts parts_;
};

} // namespace

std::unique_ptr<ridge_system> make_iterative_system(const sparse_rows& z, const iterative_settings& settings) {
    return std::make_unique<iterative_system>(z, settings);
}

} // namespace tarewell::audit
