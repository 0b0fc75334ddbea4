#pragma once

#include <vector>

#include <Eigen/Cholesky>
#include <Eigen/Core>

#include "audit/sparse_matrix.hpp"

// Inside of the iterative system; not for other files (it shows Eigen).
namespace tarewell::audit {

using row_matrix = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;

// Effects that touch very many rows (sites), and how they meet all others (growers).
struct hub_pattern {
    std::vector<int> hub;       // the hubs, ascending
    std::vector<int> hub_place; // of each effect, -1: not a hub
    sparse_rows meetings;       // effects x hubs: values of the Gram matrix, hubs' own rows empty
    Eigen::MatrixXd among;      // hubs x hubs: the Gram matrix
};

hub_pattern find_hubs(const sparse_rows& z_by_column, const symmetric_lower& gram);

// M = A with what non-hubs have in common moved to their diagonal (all cells of Z'Z are >= 0, so
// M - A is diagonally dominant and M is safely positive definite): solved exactly by eliminating
// the non-hubs first, which leaves a small dense matrix over the hubs. M = L L'.
class hub_preconditioner {
  public:
    hub_preconditioner(const hub_pattern& pattern, const symmetric_lower& gram, const Eigen::VectorXd& scale);

    double log_determinant() const { return log_determinant_; }
    const Eigen::VectorXd& diagonal() const { return diagonal_; } // of A
    void half(row_matrix& x) const;                               // x = L^-1 x
    void half_transposed(row_matrix& x) const;                    // x = L^-T x

  private:
    const hub_pattern* pattern_;
    const Eigen::VectorXd* scale_;
    Eigen::VectorXd diagonal_; // of A
    Eigen::VectorXd lumped_;   // of M, non-hubs only
    Eigen::LLT<Eigen::MatrixXd> schur_;
    double log_determinant_ = 0.0;
};

} // namespace tarewell::audit
