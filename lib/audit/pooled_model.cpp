#include "audit/pooled_model.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <stdexcept>

#include "audit/pooled_parts.hpp"
#include "audit/variance_search.hpp"

namespace tarewell::audit {

namespace {

std::size_t at(int index) { return static_cast<std::size_t>(index); }

std::string fit_sentence(pooled_status status) {
    switch (status) {
    case pooled_status::fitted:
        return "The model is fitted.";
    case pooled_status::fitted_at_boundary:
        return "The model is fitted; the weights show no differences between growers, or none "
               "between sites, beyond the scatter of bundles.";
    case pooled_status::no_scatter:
        return "Every bale weighs exactly a constant times its estimates. Scales do not agree "
               "like that: check whether weights were copied from the estimates.";
    case pooled_status::too_large:
        return "Growers are mixed too much to fit the model exactly with the work allowed.";
    case pooled_status::too_few_bales:
        return "Too few bales are weighed to say how sure anything is; only the ratio of all "
               "weight to all claims is given.";
    case pooled_status::no_bales:
        break;
    }
    return "No bale with a weight and estimates is there yet.";
}

// What an approximate fit owes its reader; empty for an exact one.
std::string approximation(const pooled_fit& fit) {
    if (!fit.approximate) {
        return {};
    }
    char error[32];
    std::snprintf(error, sizeof error, "%.2g", fit.reml_error);
    return std::string(" It is approximate, since so many growers are mixed that an exact fit would "
                       "take too long: -2 log likelihood is known to +-") +
           error + " (conjugate gradients, random probes).";
}

void check_options(const pooled_options& options) {
    if (!(options.level > 0.0 && options.level < 1.0) || !(options.prior_scale > 0.0) || options.threads < 1 ||
        options.probes < 2 || options.samples < 2) {
        throw std::invalid_argument("an option of the pooled model is out of range");
    }
}

} // namespace

bool pooled_parts::on_hand(const pooled_bundle& bundle) const {
    if (!(bundle.estimate >= 0.0) || !std::isfinite(bundle.estimate)) {
        return false;
    }
    if (bundle.bale < 0) {
        return true;
    }
    const double net = season.bales[at(bundle.bale)].net;
    return !(net >= 0.0) || !std::isfinite(net);
}

factor_limits limits_of(const pooled_options& options) {
    factor_limits limits;
    limits.multiplications = options.largest_work;
    if (!options.never_approximate) {
        limits.effort = options.largest_effort;
    }
    return limits;
}

void pooled_parts::run_fit() {
    fit.findings = prepared.findings;
    fit.n = static_cast<int>(prepared.bale_of_row.size());
    fit.p = prepared.fixed;
    fit.mu_by_basis.assign(at(season.bases), std::nullopt);
    fit.grower_effect.assign(at(season.growers), 0.0);
    fit.site_effect.assign(at(season.sites), 0.0);
    double net = 0.0;
    double claim = 0.0;
    for (const int bale : prepared.bale_of_row) {
        net += season.bales[at(bale)].net;
    }
    for (const auto& bundle : season.bundles) {
        claim += in_fit(bundle) ? bundle.estimate : 0.0;
    }
    fit.mu = claim > 0.0 ? net / claim : 0.0;
    if (fit.n < fit.p + 2) {
        fit.status = fit.n == 0 ? pooled_status::no_bales : pooled_status::too_few_bales;
        return;
    }
    const bool divisions = options.include_division && std::any_of(season.bales.begin(), season.bales.end(),
                                                                   [](const auto& b) { return b.division > 0.0; });
    double s2 = 0.0;
    std::vector<double> start;
    for (int pass = 0; pass < (divisions ? 4 : 1); ++pass) {
        auto made =
            std::make_unique<mixed_solver>(whitened_design(season, prepared, s2), make_forms().random(),
                                           limits_of(options),
                                           iterative_settings{.probes = options.probes, .samples = options.samples});
        if (options.never_approximate && made->approximate()) {
            fit.status = pooled_status::too_large;
            return;
        }
        const auto spread = made->evaluate(std::vector<double>(at(made->design().blocks), 0.0));
        double size = 0.0;
        for (const double y : made->design().y) {
            size += y * y;
        }
        if (!(spread.residual > 1e-18 * size)) {
            fit.status = pooled_status::no_scatter;
            return;
        }
        solver = std::move(made);
        best = find_variances(*solver, options.threads, start);
        fit.evaluations += best.evaluations;
        const auto state = solver->evaluate(best.point);
        fill_fit(state, s2);
        start = best.point;
        for (auto& theta : start) {
            theta = std::clamp(theta, 0.05, 5.0);
        }
        const double next = state.residual / state.freedom;
        if (std::abs(next - s2) <= 1e-9 * next) {
            break;
        }
        s2 = next;
    }
    student = std::make_unique<student_table>(fit.n - fit.p);
}

void pooled_parts::fill_fit(const mixed_state& state, double s2_for_division) {
    fit.sd_bundle = std::sqrt(state.residual / state.freedom);
    int block = 0;
    fit.sd_grower = prepared.grower_block ? state.theta[at(block++)] * fit.sd_bundle : 0.0;
    fit.sd_site = prepared.site_block ? state.theta[at(block)] * fit.sd_bundle : 0.0;
    fit.reml = state.criterion();
    fit.reml_weight = fit.reml;
    for (const double q : row_variance(season, prepared, s2_for_division)) {
        fit.reml_weight += std::log(q);
    }
    fit.approximate = solver->approximate();
    fit.reml_error = state.log_det_random_error;
    fit.mu = state.beta[0]; // the commonest basis has the first column
    for (int basis = 0; basis < season.bases; ++basis) {
        if (prepared.basis_weighed[at(basis)] != 0) {
            fit.mu_by_basis[at(basis)] = state.beta[at(prepared.basis_column[at(basis)])];
        }
    }
    for (int grower = 0; grower < season.growers && prepared.grower_block; ++grower) {
        fit.grower_effect[at(grower)] = state.effects[at(prepared.grower_effect(grower))];
    }
    for (int site = 0; site < season.sites && prepared.site_block; ++site) {
        fit.site_effect[at(site)] = state.effects[at(prepared.site_effect(season, site))];
    }
    fit.status = std::any_of(best.point.begin(), best.point.end(), [](double theta) { return theta == 0.0; })
                     ? pooled_status::fitted_at_boundary
                     : pooled_status::fitted;
}

pooled_model::pooled_model(pooled_season season, const pooled_options& options)
    : parts_(std::make_unique<pooled_parts>()) {
    check_options(options);
    parts_->season = std::move(season);
    parts_->options = options;
    parts_->prepared = prepare(parts_->season, {});
    parts_->weighed_claim.assign(at(parts_->season.growers), 0.0);
    for (const auto& bundle : parts_->season.bundles) {
        if (parts_->in_fit(bundle)) {
            parts_->weighed_claim[at(bundle.grower)] += bundle.estimate;
        }
    }
    parts_->run_fit();
    parts_->fit.sentence = fit_sentence(parts_->fit.status) + approximation(parts_->fit);
    parts_->find_groups();
    if (parts_->usable()) {
        parts_->run_posterior();
    }
}

pooled_model::~pooled_model() = default;
pooled_model::pooled_model(pooled_model&&) noexcept = default;
pooled_model& pooled_model::operator=(pooled_model&&) noexcept = default;

const pooled_fit& pooled_model::fit() const { return parts_->fit; }

} // namespace tarewell::audit
