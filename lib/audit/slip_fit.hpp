#pragma once

#include <vector>

#include <Eigen/Cholesky>
#include <Eigen/Core>

#include "audit/prepared_season.hpp"

// Inside of find_slips; not for other files (it shows Eigen).
namespace tarewell::audit {

// Ratios (sd of growers, sd of sites) over sd of bundles on which everything is integrated, with the log of the
// half-normal(1) prior times the cell's width.
struct ratio_grid {
    std::vector<double> grower;
    std::vector<double> site;
    std::vector<double> log_prior;
};
const ratio_grid& slip_grid();

// Bales that share growers or sites, directly or through others: V is made of one block for each.
struct bale_block {
    std::vector<int> bales;
    std::vector<int> bundles;
};
std::vector<bale_block> connected_bales(const pooled_season& season);

// Columns c over the rows of each block, valued at some points of the grid.
struct column_values {
    Eigen::MatrixXd score;              // points x columns: c'Py
    Eigen::MatrixXd form;               // points x columns: c'Pc
    std::vector<Eigen::MatrixXd> slope; // by point: columns x fixed, c'V^-1 X
};

// The pooled model at every point of the grid: V = I + u^2 Zg Zg' + v^2 Zs Zs' block by block,
// P = V^-1 - V^-1 X (X'V^-1 X)^-1 X'V^-1, r = y'Py, rows divided by sqrt(q).
class slip_fit {
  public:
    struct solution {                 // at one point of the grid
        double log_determinant = 0.0; // ln|V| + ln|X'V^-1 X|
        double residual = 0.0;        // r
        Eigen::VectorXd beta;
        Eigen::MatrixXd fixed_inverse; // (X'V^-1 X)^-1
        Eigen::MatrixXd vx;            // V^-1 X
        Eigen::VectorXd py;
    };

    // `left_out` by bale. The blocks are held by reference.
    slip_fit(const pooled_season& season, const std::vector<char>& left_out, const std::vector<bale_block>& blocks,
             int threads);

    bool usable() const { return usable_; } // enough bales, and some scatter
    int freedom() const { return static_cast<int>(bale_of_row_.size()) - prepared_.fixed; }
    const prepared_season& prepared() const { return prepared_; }
    const std::vector<int>& bale_of_row() const { return bale_of_row_; }
    double square_sum(int row) const { return q_[static_cast<std::size_t>(row)]; }
    const std::vector<solution>& points() const { return points_; }
    const std::vector<double>& log_weight() const { return log_weight_; }
    double log_evidence() const { return log_evidence_; }
    std::vector<double> weights() const; // of the points, sum 1
    double mean_of_class(int basis) const;

    // Claims of `season` times `value` (by bundle) over sqrt(q), added up by row and by `column_of` (by bundle; at most
    // `columns`): one matrix a block, and the columns' numbers in `which`, block after block.
    std::vector<Eigen::MatrixXd> columns(const pooled_season& season, const std::vector<double>& value,
                                         const std::vector<int>& column_of, std::vector<int>& which) const;
    column_values value(const std::vector<Eigen::MatrixXd>& columns, const std::vector<std::size_t>& at_points) const;

    // P_kk of each row: points x rows. 0 where the others do not determine it.
    Eigen::MatrixXd row_forms() const;

    // Log evidence with each row left out, exactly; -infinity where the others do not determine it.
    std::vector<double> without_each_row() const;

    // Predictive mean and variance at one point of a new bale's net.
    struct prediction {
        double mean = 0.0;
        double variance = 0.0;
    };
    prediction predict(const pooled_season& season, const std::vector<pooled_bundle>& bale, std::size_t point) const;

  private:
    struct row_block {
        Eigen::Index first = 0;
        Eigen::Index rows = 0;
        Eigen::MatrixXd growers; // Zg Zg'
        Eigen::MatrixXd sites;
    };

    Eigen::LLT<Eigen::MatrixXd> factor(const row_block& of, std::size_t point) const;
    void lay_out_rows(const pooled_season& season);
    void fill_blocks(const pooled_season& season);
    solution solve(std::size_t point) const;

    const std::vector<bale_block>* bale_blocks_;
    int threads_;
    bool usable_ = false;
    prepared_season prepared_;
    std::vector<int> bale_of_row_;
    std::vector<int> row_of_bale_;
    std::vector<double> q_;
    std::vector<row_block> blocks_;
    Eigen::MatrixXd x_;
    Eigen::VectorXd y_;
    std::vector<solution> points_;
    std::vector<double> log_weight_;
    double log_evidence_ = 0.0;
};

double log_sum_exp(const std::vector<double>& values);

} // namespace tarewell::audit
