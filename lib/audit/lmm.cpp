#include "audit/lmm.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "audit/moment_start.hpp"
#include "audit/variance_search.hpp"

namespace tarewell::audit {

namespace {

std::vector<std::vector<double>> coarse_grid(int blocks) {
    const std::vector<double> marks{0.3, 1.2};
    std::vector<std::vector<double>> grid(1);
    for (int b = 0; b < blocks; ++b) {
        std::vector<std::vector<double>> wider;
        for (const auto& shorter : grid) {
            for (const double mark : marks) {
                wider.push_back(shorter);
                wider.back().push_back(mark);
            }
        }
        grid = std::move(wider);
    }
    return grid;
}

mixed_design design_of(const lmm_data& data) {
    mixed_design design;
    const auto rows = static_cast<int>(data.response.size());
    design.y = data.response;
    design.fixed = static_cast<int>(data.fixed.size());
    for (const auto& column : data.fixed) {
        if (column.size() != data.response.size()) {
            throw std::invalid_argument("a fixed column needs one value for each row");
        }
        design.x.insert(design.x.end(), column.begin(), column.end());
    }
    std::vector<sparse_entry> entries;
    int offset = 0;
    for (const auto& term : data.terms) {
        for (auto entry : term.entries) {
            if (entry.column < 0 || entry.column >= term.levels) {
                throw std::invalid_argument("a random effect's level is out of range");
            }
            entry.column += offset;
            entries.push_back(entry);
        }
        design.block_of.insert(design.block_of.end(), static_cast<std::size_t>(term.levels), design.blocks++);
        offset += term.levels;
    }
    design.z = rows_from_entries(rows, offset, entries);
    return design;
}

double square_sum(const std::vector<double>& values) {
    double sum = 0.0;
    for (const double value : values) {
        sum += value * value;
    }
    return sum;
}

void fill(lmm_fit& fit, const lmm_data& data, const mixed_state& state) {
    const auto fixed = data.fixed.size();
    const double variance = state.residual / state.freedom;
    fit.residual_sd = std::sqrt(variance);
    fit.criterion = state.criterion();
    fit.fixed = state.beta;
    for (std::size_t c = 0; c < fixed; ++c) {
        fit.fixed_error.push_back(std::sqrt(variance * state.fixed_inverse[c * fixed + c]));
    }
    auto next = state.effects.begin();
    for (std::size_t t = 0; t < data.terms.size(); ++t) {
        fit.sd.push_back(state.theta[t] * fit.residual_sd);
        fit.effects.emplace_back(next, next + data.terms[t].levels);
        next += data.terms[t].levels;
    }
}

} // namespace

lmm_term grouping_term(const std::vector<int>& level_of_row) {
    lmm_term term;
    int row = 0;
    for (const int level : level_of_row) {
        if (level < 0) {
            throw std::invalid_argument("a level is a number from 0");
        }
        term.levels = std::max(term.levels, level + 1);
        term.entries.push_back({row++, level, 1.0});
    }
    return term;
}

minimum find_variances(const mixed_solver& solver, int threads, const std::vector<double>& start) {
    const auto function = [&](const std::vector<std::vector<double>>& points) {
        std::vector<double> values(points.size());
        for_each_index(static_cast<int>(points.size()), threads, [&](int k) {
            const auto place = static_cast<std::size_t>(k);
            values[place] = solver.evaluate(points[place]).criterion();
        });
        return values;
    };
    std::vector<std::vector<double>> starts{start};
    if (start.empty() && solver.approximate()) {
        starts = {moment_start(solver.design())};
    }
    if (starts[0].empty()) {
        starts = coarse_grid(solver.design().blocks);
    }
    return minimise_even(function, starts, largest_theta, solver.approximate());
}

lmm_fit fit_lmm(const lmm_data& data, int threads) {
    lmm_fit fit;
    if (data.response.size() <= data.fixed.size() || data.fixed.empty()) {
        fit.sentence = "There are too few rows to fit the model.";
        return fit;
    }
    const auto spread = square_sum(data.response);
    const mixed_solver solver(design_of(data), sparse_rows{}, factor_limits{}, iterative_settings{});
    const std::vector<double> none(data.terms.size(), 0.0);
    auto state = solver.evaluate(none);
    if (!(state.residual > 1e-24 * spread)) {
        fit.status = lmm_status::no_residual;
        fit.sentence = "The fixed effects alone reproduce the response; there is no scatter.";
        state.residual = 0.0;
        fill(fit, data, state);
        fit.criterion = 0.0;
        return fit;
    }
    const auto best = find_variances(solver, threads);
    state = solver.evaluate(best.point);
    fill(fit, data, state);
    fit.approximate = solver.approximate();
    fit.evaluations = best.evaluations;
    const bool at_zero = std::any_of(best.point.begin(), best.point.end(), [](double theta) { return theta == 0.0; });
    const bool no_residual =
        std::any_of(best.point.begin(), best.point.end(), [](double theta) { return theta >= largest_theta; });
    fit.status = no_residual ? lmm_status::no_residual : at_zero ? lmm_status::fitted_at_boundary : lmm_status::fitted;
    fit.sentence = no_residual ? "The random effects reproduce the response; there is no scatter."
                   : at_zero   ? "A variance is estimated as 0: the data show no such differences."
                               : "The model is fitted.";
    return fit;
}

} // namespace tarewell::audit
