#pragma once

#include <string>
#include <vector>

#include "audit/sparse_matrix.hpp"

// Linear mixed models with scalar random effects, nested or crossed, by REML.
namespace tarewell::audit {

// One random-effects term: entries (row, level, coefficient).
struct lmm_term {
    int levels = 0;
    std::vector<sparse_entry> entries;
};

// The usual term: each row belongs to one level (0 ..), coefficient 1.
// Throws std::invalid_argument on a negative level.
lmm_term grouping_term(const std::vector<int>& level_of_row);

struct lmm_data {
    std::vector<double> response;           // one value a row, finite
    std::vector<std::vector<double>> fixed; // columns of X, of full rank; {1, 1, ...} for a mean
    std::vector<lmm_term> terms;
};

enum class lmm_status {
    fitted,
    fitted_at_boundary, // a variance is estimated as 0
    no_residual,        // the model reproduces the response exactly
    too_few_rows,
};

struct lmm_fit {
    lmm_status status = lmm_status::too_few_rows;
    std::string sentence;
    double criterion = 0.0;          // -2 log restricted likelihood
    std::vector<double> fixed;       // in the response's unit per unit of the column
    std::vector<double> fixed_error; // standard errors
    std::vector<double> sd;          // of each term
    double residual_sd = 0.0;
    std::vector<std::vector<double>> effects; // predictions (BLUPs) by term and level
    bool approximate = false;
    int evaluations = 0;
};

// Fits by penalised least squares and REML (Bates et al. 2015, J. Stat. Softw. 67(1)).
// `threads` >= 1. Throws std::invalid_argument when lengths differ or an entry is out of range.
lmm_fit fit_lmm(const lmm_data& data, int threads = 1);

} // namespace tarewell::audit
