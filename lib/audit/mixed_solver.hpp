#pragma once

#include <memory>
#include <vector>

#include "audit/ridge_system.hpp"
#include "audit/sparse_matrix.hpp"

// Penalised least squares for a mixed model with scalar random effects, already whitened:
// y = X beta + Z b + eps, b = S u, u ~ N(0, s^2 I), eps ~ N(0, s^2 I), S = diag(theta of block)
// (Bates, Maechler, Bolker and Walker 2015, J. Stat. Softw. 67(1), section 3).
namespace tarewell::audit {

struct mixed_design {
    std::vector<double> y;
    int fixed = 1;
    std::vector<double> x;     // column by column, rows x fixed, of full rank
    sparse_rows z;             // rows x random effects
    std::vector<int> block_of; // block (0 ..) of each random effect
    int blocks = 0;
};

// The model at one theta.
struct mixed_state {
    std::vector<double> theta;
    double log_det_random = 0.0;       // log |L|^2
    double log_det_random_error = 0.0; // its standard error; 0 when exact
    double log_det_fixed = 0.0;        // log |Rx|^2
    double residual = 0.0;             // r^2 = |y - X beta - Z b|^2 + |u|^2
    int freedom = 0;                   // rows - fixed
    std::vector<double> beta;
    std::vector<double> effects;       // b
    std::vector<double> fixed_inverse; // (Rx'Rx)^-1, fixed x fixed
    std::vector<double> carry;         // S A^-1 S Z'X, effects x fixed, column by column
    std::unique_ptr<ridge_factor> factor;

    // -2 log restricted likelihood, whitened. Infinite below when the fit is perfect.
    double criterion() const;
    // -2 log of the likelihood with theta, beta and s integrated or profiled as the grid needs:
    // log|L|^2 + log|Rx|^2 + (n - p) log r^2.
    double marginal() const;
};

// Forms x'beta + a'b. `fixed` holds forms x fixed values, form by form.
struct mixed_forms {
    std::vector<double> fixed;
    ready_forms random;
};

// Mean of each form and the parts of its variance over s^2:
// variance = own + d' (Rx'Rx)^-1 d with d = x - carry'a (`slope`, forms x fixed).
struct form_values {
    std::vector<double> random_mean; // a'b
    std::vector<double> fixed_mean;  // x'beta
    std::vector<double> own;
    std::vector<double> random_slope; // -carry'a, forms x fixed
};

class mixed_solver {
  public:
    // `reserved` has rows whose pairs will be asked for later (see make_direct_system).
    mixed_solver(mixed_design design, const sparse_rows& reserved, const factor_limits& limits,
                 const iterative_settings& iterative);

    const mixed_design& design() const { return design_; }
    int rows() const { return static_cast<int>(design_.y.size()); }
    bool approximate() const { return system_->approximate(); }

    // Safe to call from several threads at once. Without the determinant (wanted::solutions), an
    // approximate state has no criterion.
    mixed_state evaluate(const std::vector<double>& theta, wanted what = wanted::all) const;

    mixed_forms make_forms(std::vector<double> fixed, sparse_rows random) const;
    form_values value(const mixed_state& state, const mixed_forms& forms) const;

    // Covariance over s^2 of one form with others: the first is given densely (x then a), and
    // `solved` receives S A^-1 S a. Returns a' solved + d' (Rx'Rx)^-1 d.
    double solve_form(const mixed_state& state, const std::vector<double>& x, const std::vector<double>& a,
                      std::vector<double>& solved, std::vector<double>& slope) const;

  private:
    std::vector<double> scale_of(const std::vector<double>& theta) const;

    mixed_design design_;
    std::unique_ptr<ridge_system> system_;
    std::vector<double> beta_start_; // ordinary least squares, taken off y first
    std::vector<double> y_;          // y - X beta_start
    std::vector<double> ztx_;        // effects x fixed
    std::vector<double> zty_;
    std::vector<double> xtx_;
    std::vector<double> xty_;
};

// d' M e for M of size d x d held by columns.
double bilinear(const std::vector<double>& m, const double* d, const double* e, int size);

} // namespace tarewell::audit
