#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
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

// Covariances over s^2 at the REML estimates between forms x'beta + a'b, one of the two solved for.
class covariance_maker {
  public:
    struct solved_form {
        std::vector<double> effects; // S A^-1 S a
        std::vector<double> slope;   // x - carry'a
        double variance = 0.0;
    };

    explicit covariance_maker(const pooled_parts& parts)
        : parts_(parts), state_(parts.solver->evaluate(parts.best.point)), fixed_(parts.prepared.fixed) {}

    double scatter() const { return state_.residual / state_.freedom; }

    solved_form solve(const dense_form& form) const {
        solved_form solved;
        solved.variance = parts_.solver->solve_form(state_, form.x, form.a, solved.effects, solved.slope);
        return solved;
    }

    double of_kind(const solved_form& with, const pooled_bundle& kind) const {
        std::vector<double> slope(at(fixed_), 0.0);
        slope[at(parts_.prepared.basis_column[at(kind.basis)])] = 1.0;
        double sum = 0.0;
        for (const int effect :
             {parts_.prepared.grower_effect(kind.grower), parts_.prepared.site_effect(parts_.season, kind.site)}) {
            if (effect >= 0) {
                sum += with.effects[at(effect)];
                take_carry(slope, effect, 1.0);
            }
        }
        return sum + through_fixed(slope, with.slope);
    }

    double of_form(const solved_form& with, int form) const {
        const auto& random = parts_.forms.random.forms;
        double sum = through_fixed(slope_of(form), with.slope);
        for (auto m = random.start[at(form)]; m < random.start[at(form) + 1]; ++m) {
            sum += random.value[at(m)] * with.effects[at(random.column[at(m)])];
        }
        return sum;
    }

    double of_dense(const solved_form& with, const dense_form& form, const std::vector<double>& slope) const {
        return std::inner_product(form.a.begin(), form.a.end(), with.effects.begin(), through_fixed(slope, with.slope));
    }

    // Variances of the given forms of `parts.forms`.
    vector variances(const std::vector<int>& forms) const {
        const auto own = parts_.solver->value(state_, parts_.forms).own;
        vector result(static_cast<Eigen::Index>(forms.size()));
        for (std::size_t t = 0; t < forms.size(); ++t) {
            const auto slope = slope_of(forms[t]);
            result(static_cast<Eigen::Index>(t)) = own[at(forms[t])] + through_fixed(slope, slope);
        }
        return result;
    }

  private:
    double through_fixed(const std::vector<double>& a, const std::vector<double>& b) const {
        return bilinear(state_.fixed_inverse, a.data(), b.data(), fixed_);
    }

    void take_carry(std::vector<double>& slope, int effect, double times) const {
        const auto effects = at(parts_.prepared.effects(parts_.season));
        for (std::size_t c = 0; c < at(fixed_); ++c) {
            slope[c] -= times * state_.carry[c * effects + at(effect)];
        }
    }

    std::vector<double> slope_of(int form) const {
        const auto& random = parts_.forms.random.forms;
        const auto x = parts_.forms.fixed.begin() + static_cast<std::ptrdiff_t>(form) * fixed_;
        std::vector<double> slope(x, x + fixed_);
        for (auto m = random.start[at(form)]; m < random.start[at(form) + 1]; ++m) {
            take_carry(slope, random.column[at(m)], random.value[at(m)]);
        }
        return slope;
    }

    const pooled_parts& parts_;
    mixed_state state_;
    int fixed_;
};

// One solve for each kind.
gain_state start_state(const pooled_parts& parts, const std::vector<bundle_kind>& kinds) {
    const covariance_maker covariances(parts);
    const auto targets = target_forms(parts, kinds);
    const auto count = static_cast<Eigen::Index>(kinds.size());
    gain_state gain;
    gain.scatter = covariances.scatter();
    gain.kinds.resize(count, count);
    gain.targets.resize(static_cast<Eigen::Index>(targets.size()), count);
    gain.total.resize(count);
    std::vector<pooled_bundle> all;
    for (const auto& bundle : parts.season.bundles) {
        if (parts.on_hand(bundle)) {
            all.push_back(bundle);
            gain.squares += bundle.estimate * bundle.estimate;
        }
    }
    const auto everything = dense(parts, all);
    const auto total = covariances.solve(everything);
    gain.total_variance = gain.scatter * total.variance;
    for_each_index(static_cast<int>(count), parts.options.threads, [&](int k) {
        auto one = kinds[at(k)].example;
        one.estimate = 1.0;
        const auto solved = covariances.solve(dense(parts, {one}));
        for (Eigen::Index j = 0; j < count; ++j) {
            gain.kinds(j, k) = gain.scatter * covariances.of_kind(solved, kinds[at(j)].example);
        }
        gain.total(k) = gain.scatter * covariances.of_dense(solved, everything, total.slope);
        for (std::size_t t = 0; t < targets.size(); ++t) {
            gain.targets(static_cast<Eigen::Index>(t), k) = gain.scatter * covariances.of_form(solved, targets[t]);
        }
    });
    gain.target_variance = gain.scatter * covariances.variances(targets);
    return gain;
}

// The kind whose next bundle leaves the least variance; -1 when nothing is left to weigh.
Eigen::Index best_kind(const gain_state& gain, const std::vector<bundle_kind>& kinds, const pooled_season& season,
                       weigh_goal goal) {
    Eigen::Index chosen = -1;
    double least = 0.0;
    for (std::size_t k = 0; k < kinds.size(); ++k) {
        if (kinds[k].next == kinds[k].bundles.size()) {
            continue;
        }
        const auto place = static_cast<Eigen::Index>(k);
        const double e = season.bundles[at(kinds[k].bundles[kinds[k].next])].estimate;
        const double after = goal == weigh_goal::total ? total_after(gain, place, e) : growers_after(gain, place);
        if (chosen < 0 || after < least) {
            chosen = place;
            least = after;
        }
    }
    return chosen;
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
        const auto chosen = best_kind(gain, kinds, parts.season, goal);
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
