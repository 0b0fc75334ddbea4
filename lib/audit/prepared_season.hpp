#pragma once

#include <vector>

#include "audit/mixed_solver.hpp"
#include "audit/pooled_season.hpp"

// A season made ready for the mixed model: what is left out, which columns are used, whitening.
namespace tarewell::audit {

struct prepared_season {
    std::vector<int> bale_of_row;
    std::vector<int> row_of_bale;    // -1: not in the fit
    std::vector<double> square_sum;  // q of each row, without the scale's part
    std::vector<int> basis_column;   // fixed-effect column that a basis uses
    std::vector<char> basis_weighed; // basis has a column of its own
    int fixed = 0;
    bool grower_block = false;
    bool site_block = false;
    std::vector<season_finding> findings;

    int effects(const pooled_season& season) const {
        return (grower_block ? season.growers : 0) + (site_block ? season.sites : 0);
    }
    // Column of a grower's or site's effect, -1 when there is none.
    int grower_effect(int grower) const { return grower_block ? grower : -1; }
    int site_effect(const pooled_season& season, int site) const {
        return site_block ? (grower_block ? season.growers : 0) + site : -1;
    }
};

// Chooses rows, bases and blocks. `left_out` holds bales to leave out besides (gross errors).
prepared_season prepare(const pooled_season& season, const std::vector<char>& left_out);

// Rows divided by sqrt(q + division^2 / (12 s2)); s2 = 0 leaves the scale's part out.
mixed_design whitened_design(const pooled_season& season, const prepared_season& prepared, double s2);

// q of each row as whitened_design uses it.
std::vector<double> row_variance(const pooled_season& season, const prepared_season& prepared, double s2);

} // namespace tarewell::audit
