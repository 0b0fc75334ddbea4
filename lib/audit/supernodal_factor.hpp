#pragma once

#include <cstdint>
#include <optional>
#include <utility>
#include <vector>

#include "audit/sparse_matrix.hpp"

// A sparse Cholesky factor of A = S G S + I, with S = diag(scale), for many scales and one
// elimination order: minimum degree, supernodes, multifrontal (Duff and Reid 1983; Liu 1992,
// SIAM Review 34). Connected components become separate trees, so nothing mixes them.
namespace tarewell::audit {

// Limits above which the direct factor is not worth building.
struct factor_limits {
    double multiplications = 2e10; // per factorisation
    double stored = 2e8;           // doubles in the factor
    double effort = 1e300;         // multiplications of all factors of a fit (mixed_solver)
};

// What is computed once and shared, read only, by all factorisations.
class supernodal_order {
  public:
    // Empty when the factor would pass the limits.
    static std::optional<supernodal_order> analyse(const symmetric_lower& gram, const factor_limits& limits);

    int size() const { return size_; }
    int supernodes() const { return static_cast<int>(first_.size()) - 1; }
    double multiplications() const { return multiplications_; }
    double stored() const { return static_cast<double>(panel_start_.back()); }

    // Where cell (i, j) of the inverse will be found; the pair must lie in the pattern of the
    // factor (every pair of `gram` does). Throws std::logic_error when it does not.
    struct cell {
        int supernode = 0;
        int row = 0;
        int column = 0;
    };
    cell locate(int i, int j) const;

  private:
    friend class supernodal_factor;

    void build_rows(const symmetric_lower& permuted);
    void map_entries(const symmetric_lower& permuted);

    int size_ = 0;
    double multiplications_ = 0.0;
    std::vector<int> position_;           // variable -> place in the elimination order
    std::vector<int> variable_;           // its inverse
    std::vector<int> first_;              // first column of each supernode, and the end
    std::vector<int> parent_;             // of each supernode, -1 for a root
    std::vector<std::int64_t> row_start_; // rows of each front (its own columns first)
    std::vector<int> row_;
    std::vector<int> row_in_parent_; // for rows below the own columns
    std::vector<std::int64_t> panel_start_;
    std::vector<std::int64_t> entry_start_; // entries of G that each front takes up
    std::vector<int> entry_row_;            // local to the front
    std::vector<int> entry_column_;
    std::vector<double> entry_value_;
    std::vector<int> supernode_of_; // of each column in elimination order
};

class supernodal_factor {
  public:
    explicit supernodal_factor(const supernodal_order& order) : order_(&order) {}

    // Factors S G S + I. `scale` has one finite value per variable.
    // Throws std::runtime_error when a pivot is not positive (cannot happen for G = Z'Z).
    void factorise(const std::vector<double>& scale);

    double log_determinant() const { return log_determinant_; }

    // x = A^-1 b in place; b holds `columns` vectors one after the other.
    void solve(std::vector<double>& b, int columns) const;

    // Values of the inverse at cells sorted by supernode (Takahashi's equations by fronts).
    std::vector<double> inverse_at(const std::vector<supernodal_order::cell>& cells) const;

  private:
    const supernodal_order* order_;
    std::vector<double> panel_;
    double log_determinant_ = 0.0;
};

} // namespace tarewell::audit
