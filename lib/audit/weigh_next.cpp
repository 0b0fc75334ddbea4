#include <algorithm>
#include <cmath>
#include <map>
#include <stdexcept>
#include <tuple>

#include <Eigen/Core>

#include "audit/pooled_parts.hpp"

// Which bundles to weigh next: greedy choice by rank-one updates of the posterior covariance.
namespace tarewell::audit {

namespace {

using matrix = Eigen::MatrixXd;
using vector = Eigen::VectorXd;

std::size_t at(std::int64_t index) { return static_cast<std::size_t>(index); }

// Bundles on hand of one grower, site and fixed-effect column: weighing any of them tells the same
// about the ratio f = mu + u + v, since the scatter of weight over claim is s^2 for every size.
struct bundle_kind {
    pooled_bundle example;
    std::vector<int> bundles; // largest estimate first
    double claim = 0.0;
    std::size_t next = 0;
};

// Covariances (over all: s^2 included) that the greedy choice needs.
struct gain_state {
    matrix kinds;   // of f with f
    matrix targets; // of the growers' ratios with f
    vector target_variance;
    vector total; // of the remaining total's systematic part with f
    double total_variance = 0.0;
    double scatter = 0.0; // s^2
    double squares = 0.0; // of the estimates still on hand
};

double total_after(const gain_state& state, Eigen::Index k, double e) {
    const double own = state.kinds(k, k);
    const double cross = state.total(k) - e * own;
    return state.total_variance - 2.0 * e * state.total(k) + e * e * own - cross * cross / (own + state.scatter) +
           state.scatter * (state.squares - e * e);
}

double growers_after(const gain_state& state, Eigen::Index k) {
    return state.target_variance.sum() - state.targets.col(k).squaredNorm() / (state.kinds(k, k) + state.scatter);
}

void weigh(gain_state& state, Eigen::Index k, double e) {
    const double noise = state.kinds(k, k) + state.scatter;
    state.total_variance += e * e * state.kinds(k, k) - 2.0 * e * state.total(k);
    state.total -= e * state.kinds.col(k);
    state.total_variance -= state.total(k) * state.total(k) / noise;
    const vector column = state.kinds.col(k);
    const vector target = state.targets.col(k);
    state.total -= column * (state.total(k) / noise);
    state.target_variance -= target.cwiseAbs2() / noise;
    state.targets -= target * (column.transpose() / noise);
    state.kinds -= column * (column.transpose() / noise);
    state.squares -= e * e;
}

std::vector<bundle_kind> kinds_on_hand(const pooled_parts& parts, int most) {
    std::map<std::tuple<int, int, int>, bundle_kind> found;
    for (std::size_t b = 0; b < parts.season.bundles.size(); ++b) {
        const auto& bundle = parts.season.bundles[b];
        if (parts.on_hand(bundle) && bundle.bale < 0 && bundle.estimate > 0.0) {
            const int column = parts.prepared.basis_column[at(bundle.basis)];
            auto& kind = found[{bundle.grower, bundle.site, column}];
            kind.example = bundle;
            kind.bundles.push_back(static_cast<int>(b));
            kind.claim += bundle.estimate;
        }
    }
    std::vector<bundle_kind> kinds;
    for (auto& [key, kind] : found) {
        std::stable_sort(kind.bundles.begin(), kind.bundles.end(), [&](int a, int b) {
            return parts.season.bundles[at(a)].estimate > parts.season.bundles[at(b)].estimate;
        });
        kinds.push_back(std::move(kind));
    }
    std::stable_sort(kinds.begin(), kinds.end(), [](const auto& a, const auto& b) { return a.claim > b.claim; });
    kinds.resize(std::min(kinds.size(), at(most)));
    return kinds;
}

struct dense_form {
    std::vector<double> x;
    std::vector<double> a;
};

dense_form dense(const pooled_parts& parts, const std::vector<pooled_bundle>& bundles) {
    dense_form form{std::vector<double>(at(parts.prepared.fixed), 0.0),
                    std::vector<double>(at(parts.prepared.effects(parts.season)), 0.0)};
    for (const auto& bundle : bundles) {
        form.x[at(parts.prepared.basis_column[at(bundle.basis)])] += bundle.estimate;
        const int grower = parts.prepared.grower_effect(bundle.grower);
        const int site = parts.prepared.site_effect(parts.season, bundle.site);
        if (grower >= 0) {
            form.a[at(grower)] += bundle.estimate;
        }
        if (site >= 0) {
            form.a[at(site)] += bundle.estimate;
        }
    }
    return form;
}

// Growers whose ratios are to become surer: all, or with very many those with bundles on hand.
std::vector<int> target_forms(const pooled_parts& parts, const std::vector<bundle_kind>& kinds) {
    std::vector<int> forms;
    if (parts.season.growers <= 5000) {
        for (const int form : parts.grower_form) {
            if (form >= 0) {
                forms.push_back(form);
            }
        }
        return forms;
    }
    for (const auto& kind : kinds) {
        if (parts.grower_form[at(kind.example.grower)] >= 0) {
            forms.push_back(parts.grower_form[at(kind.example.grower)]);
        }
    }
    std::sort(forms.begin(), forms.end());
    forms.erase(std::unique(forms.begin(), forms.end()), forms.end());
    return forms;
}

// The covariances at the REML estimates; one solve for each kind.
gain_state start_state(const pooled_parts& parts, const std::vector<bundle_kind>& kinds) {
    const auto& solver = *parts.solver;
    const int fixed = solver.design().fixed;
    const auto state = solver.evaluate(parts.best.point);
    const auto targets = target_forms(parts, kinds);
    const auto& random = parts.forms.random.forms;
    const auto count = static_cast<Eigen::Index>(kinds.size());
    gain_state gain;
    gain.scatter = state.residual / state.freedom;
    gain.kinds.resize(count, count);
    gain.targets.resize(static_cast<Eigen::Index>(targets.size()), count);
    gain.total.resize(count);
    gain.target_variance.resize(static_cast<Eigen::Index>(targets.size()));
    const auto target_slope = [&](int form) {
        std::vector<double> slope(at(fixed));
        for (std::size_t c = 0; c < at(fixed); ++c) {
            slope[c] = parts.forms.fixed[at(form) * at(fixed) + c];
            for (auto m = random.start[at(form)]; m < random.start[at(form) + 1]; ++m) {
                slope[c] -= random.value[at(m)] * state.carry[c * at(random.columns) + at(random.column[at(m)])];
            }
        }
        return slope;
    };
    std::vector<std::vector<double>> slopes;
    for (const int form : targets) {
        slopes.push_back(target_slope(form));
    }
    std::vector<pooled_bundle> all;
    for (const auto& bundle : parts.season.bundles) {
        if (parts.on_hand(bundle)) {
            all.push_back(bundle);
            gain.squares += bundle.estimate * bundle.estimate;
        }
    }
    const auto everything = dense(parts, all);
    std::vector<double> total_solved;
    std::vector<double> total_slope;
    gain.total_variance =
        gain.scatter * solver.solve_form(state, everything.x, everything.a, total_solved, total_slope);
    for_each_index(static_cast<int>(count), parts.options.threads, [&](int k) {
        auto one = kinds[at(k)].example;
        one.estimate = 1.0;
        const auto form = dense(parts, {one});
        std::vector<double> solved;
        std::vector<double> slope;
        solver.solve_form(state, form.x, form.a, solved, slope);
        // d' (Rx'Rx)^-1 e is bilinear; a' K b needs only b's few effects.
        for (Eigen::Index j = 0; j < count; ++j) {
            auto other = kinds[at(j)].example;
            const int grower = parts.prepared.grower_effect(other.grower);
            const int site = parts.prepared.site_effect(parts.season, other.site);
            std::vector<double> its(at(fixed), 0.0);
            its[at(parts.prepared.basis_column[at(other.basis)])] = 1.0;
            double sum = 0.0;
            for (const int effect : {grower, site}) {
                if (effect >= 0) {
                    sum += solved[at(effect)];
                    for (std::size_t c = 0; c < at(fixed); ++c) {
                        its[c] -= state.carry[c * form.a.size() + at(effect)];
                    }
                }
            }
            gain.kinds(j, k) = gain.scatter * (sum + bilinear(state.fixed_inverse, its.data(), slope.data(), fixed));
        }
        double total = bilinear(state.fixed_inverse, total_slope.data(), slope.data(), fixed);
        for (std::size_t c = 0; c < solved.size(); ++c) {
            total += everything.a[c] * solved[c];
        }
        gain.total(k) = gain.scatter * total;
        for (std::size_t t = 0; t < targets.size(); ++t) {
            double sum = bilinear(state.fixed_inverse, slopes[t].data(), slope.data(), fixed);
            for (auto m = random.start[at(targets[t])]; m < random.start[at(targets[t]) + 1]; ++m) {
                sum += random.value[at(m)] * solved[at(random.column[at(m)])];
            }
            gain.targets(static_cast<Eigen::Index>(t), k) = gain.scatter * sum;
        }
    });
    const auto own = solver.value(state, parts.forms).own;
    for (std::size_t t = 0; t < targets.size(); ++t) {
        gain.target_variance(static_cast<Eigen::Index>(t)) =
            gain.scatter *
            (own[at(targets[t])] + bilinear(state.fixed_inverse, slopes[t].data(), slopes[t].data(), fixed));
    }
    return gain;
}

} // namespace

std::vector<weigh_choice> pooled_model::weigh_next(int count, weigh_goal goal, int most_kinds) const {
    if (count < 0 || most_kinds < 1) {
        throw std::invalid_argument("counts of bundles to weigh are not negative");
    }
    const auto& parts = *parts_;
    std::vector<weigh_choice> choices;
    if (!parts.usable()) {
        return choices;
    }
    auto kinds = kinds_on_hand(parts, most_kinds);
    if (kinds.empty()) {
        return choices;
    }
    auto gain = start_state(parts, kinds);
    const double targets = std::max<double>(1.0, static_cast<double>(gain.target_variance.size()));
    const auto spread = [&] {
        const double variance = goal == weigh_goal::total ? gain.total_variance + gain.scatter * gain.squares
                                                          : gain.target_variance.sum() / targets;
        return std::sqrt(std::max(0.0, variance));
    };
    while (static_cast<int>(choices.size()) < count) {
        Eigen::Index chosen = -1;
        double least = 0.0;
        for (std::size_t k = 0; k < kinds.size(); ++k) {
            if (kinds[k].next == kinds[k].bundles.size()) {
                continue;
            }
            const auto place = static_cast<Eigen::Index>(k);
            const double e = parts.season.bundles[at(kinds[k].bundles[kinds[k].next])].estimate;
            const double after = goal == weigh_goal::total ? total_after(gain, place, e) : growers_after(gain, place);
            if (chosen < 0 || after < least) {
                chosen = place;
                least = after;
            }
        }
        if (chosen < 0) {
            break;
        }
        auto& kind = kinds[at(chosen)];
        weigh_choice choice;
        choice.bundle = kind.bundles[kind.next++];
        choice.sd_before = spread();
        weigh(gain, chosen, parts.season.bundles[at(choice.bundle)].estimate);
        choice.sd_after = spread();
        choices.push_back(choice);
    }
    return choices;
}

} // namespace tarewell::audit
