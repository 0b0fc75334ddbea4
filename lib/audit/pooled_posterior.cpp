#include <algorithm>
#include <cmath>

#include "audit/pooled_parts.hpp"

namespace tarewell::audit {

namespace {

std::size_t at(int index) { return static_cast<std::size_t>(index); }

// Forms valued at one point of the grid, times s^2.
void value_forms(const mixed_solver& solver, const mixed_state& state, const mixed_forms& forms, form_posterior& out,
                 std::size_t g) {
    const auto values = solver.value(state, forms);
    const double s2 = state.residual / state.freedom;
    const int fixed = solver.design().fixed;
    const auto count = values.own.size();
    out.mean_r[g] = values.random_mean;
    out.mean_f[g] = values.fixed_mean;
    for (auto* part : {&out.var_r[g], &out.var_f[g], &out.cov_rf[g]}) {
        part->resize(count);
    }
    for (std::size_t f = 0; f < count; ++f) {
        const double* slope = values.random_slope.data() + f * at(fixed);
        const double* x = forms.fixed.data() + f * at(fixed);
        const auto& inverse = state.fixed_inverse;
        out.var_r[g][f] = s2 * (values.own[f] + bilinear(inverse, slope, slope, fixed));
        out.var_f[g][f] = s2 * bilinear(inverse, x, x, fixed);
        out.cov_rf[g][f] = s2 * bilinear(inverse, slope, x, fixed);
    }
}

} // namespace

int form_builder::add() {
    fixed_values_.resize(fixed_values_.size() + at(fixed_), 0.0);
    entries_begin_.push_back(entries_.size());
    return count_++;
}

void form_builder::add_fixed(int form, int column, double value) {
    fixed_values_[at(form) * at(fixed_) + at(column)] += value;
}

void form_builder::add_random(int form, int effect, double value) {
    if (effect >= 0) {
        entries_.push_back({form, effect, value});
    }
}

void form_builder::scale_last(double factor) {
    for (std::size_t k = entries_begin_.back(); k < entries_.size(); ++k) {
        entries_[k].value *= factor;
    }
    for (std::size_t k = fixed_values_.size() - at(fixed_); k < fixed_values_.size(); ++k) {
        fixed_values_[k] *= factor;
    }
}

void pooled_parts::add_bundle(form_builder& building, int form, const pooled_bundle& bundle, double e) const {
    building.add_fixed(form, prepared.basis_column[at(bundle.basis)], e);
    building.add_random(form, prepared.grower_effect(bundle.grower), e);
    building.add_random(form, prepared.site_effect(season, bundle.site), e);
}

// Forms of growers, sites, bases and groups; each a mean over claims in bales of the fit.
form_builder pooled_parts::make_forms() {
    form_builder building(prepared.fixed, prepared.effects(season));
    std::vector<std::vector<int>> of_grower(at(season.growers));
    std::vector<std::vector<int>> of_site(at(season.sites));
    for (std::size_t b = 0; b < season.bundles.size(); ++b) {
        if (in_fit(season.bundles[b]) && season.bundles[b].estimate > 0.0) {
            of_grower[at(season.bundles[b].grower)].push_back(static_cast<int>(b));
            of_site[at(season.bundles[b].site)].push_back(static_cast<int>(b));
        }
    }
    const auto mean_form = [&](const std::vector<int>& bundles, auto&& add_one) {
        if (bundles.empty()) {
            return -1;
        }
        const int form = building.add();
        double claim = 0.0;
        for (const int b : bundles) {
            add_one(form, season.bundles[at(b)]);
            claim += season.bundles[at(b)].estimate;
        }
        building.scale_last(1.0 / claim);
        return form;
    };
    const auto whole = [&](int form, const pooled_bundle& bundle) {
        add_bundle(building, form, bundle, bundle.estimate);
    };
    const auto without_grower = [&](int form, const pooled_bundle& bundle) {
        building.add_fixed(form, prepared.basis_column[at(bundle.basis)], bundle.estimate);
        building.add_random(form, prepared.site_effect(season, bundle.site), bundle.estimate);
    };
    grower_form.clear();
    site_form.clear();
    basis_form.clear();
    group_form.clear();
    for (const auto& bundles : of_grower) {
        grower_form.push_back(mean_form(bundles, whole));
    }
    for (const auto& bundles : of_site) {
        site_form.push_back(mean_form(bundles, without_grower));
    }
    for (int basis = 0; basis < season.bases; ++basis) {
        basis_form.push_back(prepared.basis_weighed[at(basis)] != 0 ? building.add() : -1);
        if (basis_form.back() >= 0) {
            building.add_fixed(basis_form.back(), prepared.basis_column[at(basis)], 1.0);
        }
    }
    for (const auto& group : groups) {
        std::vector<int> bundles;
        for (const int grower : group.growers) {
            bundles.insert(bundles.end(), of_grower[at(grower)].begin(), of_grower[at(grower)].end());
        }
        group_form.push_back(mean_form(bundles, whole));
    }
    return building;
}

void pooled_parts::run_posterior() {
    const auto built = make_forms();
    forms = solver->make_forms(built.fixed(), built.random());
    std::vector<double> total_fixed(at(prepared.fixed), 0.0);
    std::vector<double> total_random(at(prepared.effects(season)), 0.0);
    double squares = 0.0;
    for (const auto& bundle : season.bundles) {
        if (!on_hand(bundle)) {
            continue;
        }
        const double e = bundle.estimate;
        total_fixed[at(prepared.basis_column[at(bundle.basis)])] += e;
        if (prepared.grower_block) {
            total_random[at(prepared.grower_effect(bundle.grower))] += e;
        }
        if (prepared.site_block) {
            total_random[at(prepared.site_effect(season, bundle.site))] += e;
        }
        squares += e * e;
    }
    const auto grid = posterior_grid(*solver, best, options.prior_scale, options.threads);
    auto& out = posterior;
    for (auto* part : {&out.mean_r, &out.mean_f, &out.var_r, &out.var_f, &out.cov_rf}) {
        part->resize(grid.size());
    }
    out.weight.resize(grid.size());
    out.total_mean.resize(grid.size());
    out.total_var.resize(grid.size());
    for_each_index(static_cast<int>(grid.size()), options.threads, [&](int k) {
        const auto g = at(k);
        const auto state = solver->evaluate(grid[g].theta, wanted::solutions);
        out.weight[g] = grid[g].weight;
        value_forms(*solver, state, forms, out, g);
        if (squares > 0.0) {
            std::vector<double> solved;
            std::vector<double> slope;
            const double variance = solver->solve_form(state, total_fixed, total_random, solved, slope);
            out.total_var[g] = state.residual / state.freedom * (variance + squares);
            for (std::size_t c = 0; c < total_fixed.size(); ++c) {
                out.total_mean[g] += total_fixed[c] * state.beta[c];
            }
            for (std::size_t c = 0; c < total_random.size(); ++c) {
                out.total_mean[g] += total_random[c] * state.effects[c];
            }
        }
    });
}

ratio_interval pooled_parts::interval_to_claim(int form) const {
    const auto f = at(form);
    const auto points = posterior.weight.size();
    std::vector<double> mean(points);
    std::vector<double> sd(points);
    double centre = 0.0;
    double width = 0.0;
    for (std::size_t g = 0; g < points; ++g) {
        mean[g] = posterior.mean_r[g][f] + posterior.mean_f[g][f];
        sd[g] = std::sqrt(std::max(0.0, posterior.var_r[g][f] + posterior.var_f[g][f] + 2.0 * posterior.cov_rf[g][f]));
        centre += posterior.weight[g] * mean[g];
        width += posterior.weight[g] * sd[g];
    }
    const auto below = [&](double x) { return mixture_below(*student, posterior.weight, mean, sd, x); };
    const double tail = 0.5 * (1.0 - options.level);
    return {centre, quantile_of(below, tail, centre - 2.0 * width, width),
            quantile_of(below, 1.0 - tail, centre + 2.0 * width, width)};
}

// P(random / fixed <= r) = P(random - r fixed <= 0), exact for each point of the grid as long as
// the mean of the bases is surely above 0.
ratio_interval pooled_parts::interval_to_bases(int form) const {
    const auto f = at(form);
    double centre = 0.0;
    double width = 0.0;
    for (std::size_t g = 0; g < posterior.weight.size(); ++g) {
        const double fixed = posterior.mean_f[g][f];
        centre += posterior.weight[g] * posterior.mean_r[g][f] / fixed;
        width += posterior.weight[g] * std::sqrt(std::max(0.0, posterior.var_r[g][f])) / std::abs(fixed);
    }
    const auto below = [&](double r) { return below_bases(form, r); };
    const double tail = 0.5 * (1.0 - options.level);
    if (width == 0.0) {
        return {1.0 + centre, 1.0 + centre, 1.0 + centre};
    }
    return {1.0 + centre, 1.0 + quantile_of(below, tail, centre - 2.0 * width, width),
            1.0 + quantile_of(below, 1.0 - tail, centre + 2.0 * width, width)};
}

double pooled_parts::below_bases(int form, double r) const {
    const auto f = at(form);
    double sum = 0.0;
    for (std::size_t g = 0; g < posterior.weight.size(); ++g) {
        const double mean = posterior.mean_r[g][f] - r * posterior.mean_f[g][f];
        const double variance =
            posterior.var_r[g][f] + r * r * posterior.var_f[g][f] - 2.0 * r * posterior.cov_rf[g][f];
        const double share = variance > 0.0 ? student->below(-mean / std::sqrt(variance)) : (mean <= 0.0 ? 1.0 : 0.0);
        sum += posterior.weight[g] * share;
    }
    return sum;
}

std::pair<double, double> pooled_parts::outside_bases(int form, double tolerance) const {
    return {below_bases(form, -tolerance), 1.0 - below_bases(form, tolerance)};
}

std::pair<double, double> pooled_parts::outside_one(int form, double tolerance) const {
    const auto f = at(form);
    std::pair<double, double> result{0.0, 0.0};
    for (std::size_t g = 0; g < posterior.weight.size(); ++g) {
        const double mean = posterior.mean_r[g][f] + posterior.mean_f[g][f];
        const double sd =
            std::sqrt(std::max(1e-300, posterior.var_r[g][f] + posterior.var_f[g][f] + 2.0 * posterior.cov_rf[g][f]));
        result.first += posterior.weight[g] * student->below((1.0 - tolerance - mean) / sd);
        result.second += posterior.weight[g] * student->below((mean - 1.0 - tolerance) / sd);
    }
    return result;
}

} // namespace tarewell::audit
