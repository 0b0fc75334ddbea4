#pragma once

#include <memory>
#include <vector>

#include "audit/sparse_matrix.hpp"
#include "audit/supernodal_factor.hpp"

// The inner matrix of the mixed model, A = S Z'Z S + I with S = diag(scale), behind one seam:
// a direct sparse factor where it fits, conjugate gradients and random probes where not.
namespace tarewell::audit {

// Linear forms of the random effects, one a row, made ready by the system that will value them.
struct ready_forms {
    sparse_rows forms;
    std::vector<supernodal_order::cell> cells; // direct: sorted by supernode
    std::vector<std::int64_t> cell_of_pair;    // pairs of each form in order -> cells
    std::vector<char> by_solving;              // form has a pair outside the pattern
};

// What a factor will be asked for: where the determinant is dear, it is left 0 unless wanted.
enum class wanted { all, solutions };

class ridge_factor {
  public:
    virtual ~ridge_factor() = default;

    virtual double log_determinant() const = 0;
    // Standard error of log_determinant; 0 when exact.
    virtual double log_determinant_error() const = 0;
    // x = A^-1 b in place; b holds `columns` vectors one after the other.
    virtual void solve(std::vector<double>& b, int columns) const = 0;
    // (S a)' A^-1 (S a) for each form a.
    virtual std::vector<double> form_variances(const ready_forms& forms) const = 0;
};

class ridge_system {
  public:
    virtual ~ridge_system() = default;

    virtual bool approximate() const = 0;
    virtual std::unique_ptr<ridge_factor> factor(const std::vector<double>& scale, wanted what) const = 0;
    virtual ready_forms make_ready(sparse_rows forms) const = 0;
};

// The exact system; null when the factor would pass the limits. The pairs of `reserved`'s rows
// are kept in the pattern.
std::unique_ptr<ridge_system> make_direct_system(const sparse_rows& z, const sparse_rows& reserved,
                                                 const factor_limits& limits);

struct iterative_settings {
    int probes = 10;          // random sign vectors for the log determinant
    int steps = 24;           // Lanczos steps for each of them
    int samples = 24;         // draws from N(0, A^-1) for the variances of forms
    double tolerance = 1e-10; // relative residual of a solve
    unsigned long long seed = 20260701;
};

// The approximate system: preconditioned conjugate gradients, stochastic Lanczos quadrature
// (Ubaru, Chen and Saad 2017, SIAM J. Matrix Anal. Appl. 38), and Rao-Blackwellised sampling for
// variances (Siden et al. 2018, J. Comput. Graph. Stat. 27). The probes are the same for every
// scale, so the criterion stays smooth.
std::unique_ptr<ridge_system> make_iterative_system(const sparse_rows& z, const iterative_settings& settings);

} // namespace tarewell::audit
