#include "audit/gross_errors.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "audit/pooled_parts.hpp"
#include "audit/variance_search.hpp"

namespace tarewell::audit {

namespace {

std::size_t at(int index) { return static_cast<std::size_t>(index); }

struct bale_test {
    double t = 0.0;
    double expected = 0.0;
};

// The model without the bales left out; empty when it cannot be fitted.
struct fitted_season {
    prepared_season prepared;
    std::unique_ptr<mixed_solver> solver;
    std::vector<double> theta;
};

class error_search {
  public:
    error_search(const pooled_season& season, const pooled_options& options)
        : season_(season), options_(options), out_(season.bales.size(), 0) {}

    std::vector<char>& left_out() { return out_; }

    bool fit(fitted_season& fitted, const std::vector<double>& start) const {
        fitted.prepared = prepare(season_, out_);
        const int rows = static_cast<int>(fitted.prepared.bale_of_row.size());
        if (rows < fitted.prepared.fixed + 3) {
            return false;
        }
        auto design = whitened_design(season_, fitted.prepared, 0.0);
        const double size = std::inner_product(design.y.begin(), design.y.end(), design.y.begin(), 0.0);
        fitted.solver = std::make_unique<mixed_solver>(
            std::move(design), sparse_rows{}, limits_of(options_),
            iterative_settings{.probes = options_.probes, .samples = options_.samples});
        const std::vector<double> none(at(fitted.solver->design().blocks), 0.0);
        if (!(fitted.solver->evaluate(none).residual > 1e-18 * size)) {
            return false;
        }
        const bool same = start.size() == none.size();
        fitted.theta = find_variances(*fitted.solver, options_.threads, same ? start : std::vector<double>{}).point;
        return true;
    }

    // Every bale of the fit against all others, the variance ratios held.
    std::vector<bale_test> test_all(const fitted_season& fitted) const {
        const auto& solver = *fitted.solver;
        const auto& design = solver.design();
        const auto rows = at(solver.rows());
        std::vector<double> x(rows * at(design.fixed));
        for (std::size_t row = 0; row < rows; ++row) {
            for (std::size_t c = 0; c < at(design.fixed); ++c) {
                x[row * at(design.fixed) + c] = design.x[c * rows + row];
            }
        }
        const auto forms = solver.make_forms(std::move(x), design.z);
        const auto state = solver.evaluate(fitted.theta);
        const auto values = solver.value(state, forms);
        std::vector<bale_test> tests(season_.bales.size());
        for (std::size_t row = 0; row < rows; ++row) {
            const double* fixed = forms.fixed.data() + row * at(design.fixed);
            std::vector<double> slope(values.random_slope.begin() + static_cast<std::ptrdiff_t>(row * at(design.fixed)),
                                      values.random_slope.begin() +
                                          static_cast<std::ptrdiff_t>((row + 1) * at(design.fixed)));
            std::transform(slope.begin(), slope.end(), fixed, slope.begin(), std::plus<>());
            const double leverage =
                values.own[row] + bilinear(state.fixed_inverse, slope.data(), slope.data(), design.fixed);
            const double left = design.y[row] - values.fixed_mean[row] - values.random_mean[row];
            const double room = std::max(1.0 - leverage, 1e-12);
            const double others = (state.residual - left * left / room) / (state.freedom - 1);
            auto& test = tests[at(fitted.prepared.bale_of_row[row])];
            test.t = others > 0.0 ? left / std::sqrt(room * others) : 0.0;
            test.expected = (design.y[row] - left / room) * std::sqrt(fitted.prepared.square_sum[row]);
        }
        return tests;
    }

    // One bale against a fit without it, variances included.
    bale_test test_one(int bale, const std::vector<double>& start) {
        out_[at(bale)] = 1;
        fitted_season without;
        const bool usable = fit(without, start);
        out_[at(bale)] = 0;
        return usable ? predict(without, bale) : bale_test{};
    }

  private:
    bale_test predict(const fitted_season& fitted, int bale) const {
        const auto& prepared = fitted.prepared;
        const int fixed = fitted.solver->design().fixed;
        std::vector<double> x(at(fixed), 0.0);
        std::vector<double> a(at(prepared.effects(season_)), 0.0);
        double squares = 0.0;
        for (const auto& bundle : season_.bundles) {
            if (bundle.bale != bale) {
                continue;
            }
            x[at(prepared.basis_column[at(bundle.basis)])] += bundle.estimate;
            if (prepared.grower_block) {
                a[at(prepared.grower_effect(bundle.grower))] += bundle.estimate;
            }
            if (prepared.site_block) {
                a[at(prepared.site_effect(season_, bundle.site))] += bundle.estimate;
            }
            squares += bundle.estimate * bundle.estimate;
        }
        const auto state = fitted.solver->evaluate(fitted.theta);
        std::vector<double> solved;
        std::vector<double> slope;
        const double variance = fitted.solver->solve_form(state, x, a, solved, slope) + squares;
        bale_test test;
        test.expected = std::inner_product(x.begin(), x.end(), state.beta.begin(), 0.0) +
                        std::inner_product(a.begin(), a.end(), state.effects.begin(), 0.0);
        const double s2 = state.residual / state.freedom;
        test.t = (season_.bales[at(bale)].net - test.expected) / std::sqrt(s2 * variance);
        return test;
    }

    const pooled_season& season_;
    pooled_options options_;
    std::vector<char> out_;
};

constexpr std::size_t refitted_candidates = 4;

std::vector<int> worst_first(const std::vector<bale_test>& tests) {
    std::vector<int> order(tests.size());
    std::iota(order.begin(), order.end(), 0);
    std::stable_sort(order.begin(), order.end(),
                     [&](int a, int b) { return std::abs(tests[at(a)].t) > std::abs(tests[at(b)].t); });
    return order;
}

} // namespace

gross_error_report find_gross_errors(const pooled_season& season, const pooled_options& options,
                                     const gross_error_options& gross) {
    gross_error_report report;
    report.t.assign(season.bales.size(), 0.0);
    error_search search(season, options);
    fitted_season fitted;
    std::vector<double> start;
    while (search.fit(fitted, start)) {
        report.tested = true;
        start = fitted.theta;
        for (auto& theta : start) {
            theta = std::clamp(theta, 0.05, 5.0);
        }
        auto tests = search.test_all(fitted);
        std::transform(tests.begin(), tests.end(), report.t.begin(), [](const bale_test& test) { return test.t; });
        auto order = worst_first(tests);
        const bool refit = fitted.solver->rows() <= gross.refit_up_to;
        if (refit) {
            order.resize(std::min(order.size(), refitted_candidates));
            for (const int bale : order) {
                // A refit moves t by less than this; smaller ones cannot pass the limit.
                if (std::abs(tests[at(bale)].t) > 0.5 * gross.limit) {
                    tests[at(bale)] = search.test_one(bale, start);
                    report.t[at(bale)] = tests[at(bale)].t;
                }
            }
            std::stable_sort(order.begin(), order.end(),
                             [&](int a, int b) { return std::abs(tests[at(a)].t) > std::abs(tests[at(b)].t); });
            order.erase(order.begin() + (order.empty() ? 0 : 1), order.end());
        }
        bool found = false;
        for (const int bale : order) {
            const auto& test = tests[at(bale)];
            if (std::abs(test.t) <= gross.limit || static_cast<int>(report.suspects.size()) >= gross.most) {
                break;
            }
            found = true;
            search.left_out()[at(bale)] = 1;
            report.suspects.push_back({bale, test.t, season.bales[at(bale)].net, test.expected,
                                       test.t > 0.0
                                           ? "Weighs far more than its bundles' claims and all other bales say."
                                           : "Weighs far less than its bundles' claims and all other bales say."});
        }
        if (!found) {
            break;
        }
    }
    report.sentence = !report.tested            ? "Too few bales, or no scatter, to judge single bales by."
                      : report.suspects.empty() ? "No bale's weight stands out from its bundles' claims."
                                                : "Look at the tickets of these bales first.";
    return report;
}

} // namespace tarewell::audit
