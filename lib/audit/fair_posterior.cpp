#include "audit/fair_posterior.hpp"

#include <cmath>
#include <numeric>
#include <utility>

namespace tarewell::audit {

namespace {

constexpr double least_weight = 1e-4; // of a point
constexpr double no_variance = 1e-14;

std::size_t at(std::int64_t index) { return static_cast<std::size_t>(index); }

// Shares of the classes in each grower's weighed claims; 0 for one never weighed.
Eigen::MatrixXd class_shares(const fitted_world& world, const std::vector<char>& in_fit) {
    const auto& season = world.corrected;
    const auto& prepared = world.fit->prepared();
    Eigen::MatrixXd share = Eigen::MatrixXd::Zero(season.growers, prepared.fixed);
    for (const auto& bundle : season.bundles) {
        if (bundle.bale >= 0 && in_fit[at(bundle.bale)] != 0) {
            share(bundle.grower, prepared.basis_column[at(bundle.basis)]) += bundle.estimate;
        }
    }
    for (Eigen::Index g = 0; g < share.rows(); ++g) {
        const double all = share.row(g).sum();
        share.row(g) *= all > 0.0 ? 1.0 / all : 0.0;
    }
    return share;
}

} // namespace

std::vector<double> claim_corrections(const pooled_season& given, const std::vector<double>& correction) {
    std::vector<double> made(at(given.growers), 0.0);
    std::vector<double> corrected(at(given.growers), 0.0);
    for (std::size_t b = 0; b < given.bundles.size(); ++b) {
        made[at(given.bundles[b].grower)] += given.bundles[b].estimate;
        corrected[at(given.bundles[b].grower)] += given.bundles[b].estimate * correction[b];
    }
    for (std::size_t g = 0; g < made.size(); ++g) {
        corrected[g] = made[g] > 0.0 ? corrected[g] / made[g] : 1.0;
    }
    return corrected;
}

fair_posterior::fair_posterior(const slip_ground& ground, const fitted_world& world)
    : correction_(claim_corrections(ground.season.weighed, world.correction)), student_(world.fit->freedom()) {
    const auto& fit = *world.fit;
    const auto& season = world.corrected;
    std::vector<char> in_fit(season.bales.size(), 0);
    for (const int bale : fit.bale_of_row()) {
        in_fit[at(bale)] = 1;
    }
    const auto all = fit.weights();
    std::vector<std::size_t> points;
    for (std::size_t j = 0; j < all.size(); ++j) {
        if (all[j] > least_weight) {
            points.push_back(j);
            weight_.push_back(all[j]);
        }
    }
    const double sum = std::accumulate(weight_.begin(), weight_.end(), 0.0);
    std::vector<double> claim;
    std::vector<int> grower;
    for (const auto& bundle : season.bundles) {
        claim.push_back(bundle.estimate);
        grower.push_back(bundle.grower);
    }
    std::vector<int> which;
    const auto columns = fit.columns(season, claim, grower, which);
    const auto values = fit.value(columns, points);
    const auto share = class_shares(world, in_fit);
    for (std::size_t k = 0; k < points.size(); ++k) {
        weight_[k] /= sum;
        const auto& state = fit.points()[points[k]];
        const double s2 = state.residual / fit.freedom();
        const double t2 = slip_grid().grower[points[k]] * slip_grid().grower[points[k]];
        std::vector<parts> one(at(season.growers), {0.0, s2 * t2, 1.0, 0.0, 0.0});
        for (std::size_t c = 0; c < which.size(); ++c) {
            const Eigen::Index column = static_cast<Eigen::Index>(c);
            const Eigen::Index row = static_cast<Eigen::Index>(k);
            const Eigen::VectorXd mix = share.row(which[c]).transpose();
            const Eigen::VectorXd spread = state.fixed_inverse * mix;
            one[at(which[c])] = {t2 * values.score(row, column), s2 * (t2 - t2 * t2 * values.form(row, column)),
                                 mix.dot(state.beta), s2 * mix.dot(spread),
                                 -s2 * t2 * values.slope[k].row(column).dot(spread)};
        }
        growers_.push_back(std::move(one));
    }
}

fair_posterior::fair_posterior(std::vector<double> correction, std::vector<parts> growers, int freedom)
    : weight_{1.0}, growers_{std::move(growers)}, correction_(std::move(correction)), student_(freedom) {}

double fair_posterior::below(int grower, double ratio) const {
    const double r = ratio / correction_[at(grower)] - 1.0;
    double sum = 0.0;
    for (std::size_t k = 0; k < weight_.size(); ++k) {
        const auto& of = growers_[k][at(grower)];
        const double mean = of.effect - r * of.fixed;
        const double variance = of.effect_variance + r * r * of.fixed_variance - 2.0 * r * of.covariance;
        sum += weight_[k] * (variance > no_variance ? student_.below(-mean / std::sqrt(variance))
                             : mean <= 0.0          ? 1.0
                                                    : 0.0);
    }
    return sum;
}

double fair_posterior::mean(int grower) const {
    double sum = 0.0;
    for (std::size_t k = 0; k < weight_.size(); ++k) {
        const auto& of = growers_[k][at(grower)];
        sum += weight_[k] * of.effect / of.fixed;
    }
    return correction_[at(grower)] * (1.0 + sum);
}

} // namespace tarewell::audit
