// What the audit promises, on invented pilot seasons whose truth is known, beside what an independent prototype
// measured on 400 such seasons (100 growers, 16 sites, 60 bales of 10 bundles):
//   audit_coverage [seasons = 400] [first seed = 1]
// Each number has its Monte Carlo error: the standard error over seasons.

#include <algorithm>
#include <atomic>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <thread>

#include "audit/gross_errors.hpp"
#include "audit/pooled_model.hpp"
#include "audit/prepared_season.hpp"
#include "audit/variance_search.hpp"
#include "bench/audit_simulation.hpp"

using namespace tarewell;

namespace {

std::size_t at(int index) { return static_cast<std::size_t>(index); }

// A ratio of sums over seasons with its standard error (delta method).
struct shares {
    std::vector<double> top;
    std::vector<double> bottom;

    explicit shares(int seasons) : top(at(seasons), 0.0), bottom(at(seasons), 0.0) {}
    double mean() const {
        return std::accumulate(top.begin(), top.end(), 0.0) /
               std::max(std::accumulate(bottom.begin(), bottom.end(), 0.0), 1e-300);
    }
    double error() const {
        const double ratio = mean();
        const auto count = static_cast<double>(top.size());
        double squares = 0.0;
        for (std::size_t k = 0; k < top.size(); ++k) {
            squares += (top[k] - ratio * bottom[k]) * (top[k] - ratio * bottom[k]);
        }
        const double below = std::accumulate(bottom.begin(), bottom.end(), 0.0) / count;
        return std::sqrt(squares / (count * std::max(count - 1.0, 1.0))) / std::max(below, 1e-300);
    }
};

void print(const char* what, const char* prototype, const shares& got) {
    std::printf("  %-58s %10s   %.3f +- %.3f\n", what, prototype, got.mean(), got.error());
}

audit::pooled_options one_thread() {
    audit::pooled_options options;
    options.threads = 1;
    return options;
}

template <typename work> void in_parallel(int count, work&& each) {
    std::atomic<int> next{0};
    const auto run = [&] {
        for (int k = next++; k < count; k = next++) {
            each(k);
        }
    };
    std::thread other(run);
    run();
    other.join();
}

// Intervals of +-1.96 standard deviations at the REML estimates, as if those were the truth.
void score_plug_in(const bench::simulated_season& made, int k, shares& covered) {
    const auto prepared = audit::prepare(made.season, {});
    const audit::mixed_solver solver(audit::whitened_design(made.season, prepared, 0.0), {}, {}, {});
    const auto state = solver.evaluate(audit::find_variances(solver, 1).point);
    std::vector<audit::sparse_entry> entries;
    std::vector<double> truth;
    std::vector<char> seen(made.rho.size(), 0);
    for (const auto& bundle : made.season.bundles) {
        if (seen[at(bundle.grower)] != 0) {
            continue;
        }
        seen[at(bundle.grower)] = 1;
        const int form = static_cast<int>(truth.size());
        entries.push_back({form, prepared.grower_effect(bundle.grower), 1.0});
        entries.push_back({form, prepared.site_effect(made.season, bundle.site), 1.0});
        truth.push_back(made.rho[at(bundle.grower)]);
    }
    const auto forms = solver.make_forms(
        std::vector<double>(truth.size(), 1.0),
        audit::rows_from_entries(static_cast<int>(truth.size()), prepared.effects(made.season), entries));
    const auto values = solver.value(state, forms);
    for (std::size_t f = 0; f < truth.size(); ++f) {
        const double slope = 1.0 + values.random_slope[f];
        const double variance =
            state.residual / state.freedom * (values.own[f] + slope * slope * state.fixed_inverse[0]);
        const double off = values.fixed_mean[f] + values.random_mean[f] - truth[f];
        covered.top[at(k)] += std::abs(off) <= 1.959964 * std::sqrt(variance) ? 1.0 : 0.0;
        covered.bottom[at(k)] += 1.0;
    }
}

// The last bales put back on hand: what they weighed together.
double put_back(audit::pooled_season& season, std::size_t kept) {
    double weight = 0.0;
    for (std::size_t k = kept; k < season.bales.size(); ++k) {
        weight += season.bales[k].net;
    }
    season.bales.resize(kept);
    for (auto& bundle : season.bundles) {
        bundle.bale = bundle.bale >= static_cast<int>(kept) ? -1 : bundle.bale;
    }
    return weight;
}

struct design_scores {
    shares covered, plug_in, wrong, said, spearman, on_hand, bales;
    explicit design_scores(int seasons)
        : covered(seasons), plug_in(seasons), wrong(seasons), said(seasons), spearman(seasons), on_hand(seasons),
          bales(seasons) {}
};

void score(const bench::simulation& plan, std::uint64_t seed, int k, design_scores& into) {
    const auto made = bench::simulate(plan, seed);
    const auto spotted = audit::take_off_spot_weights(made.season, made.spots);
    const audit::pooled_model model(spotted.season, one_thread());
    audit::call_options calls;
    calls.call_group_members = true;
    const auto report = model.growers(calls);
    std::vector<double> truth;
    std::vector<double> ratio;
    for (const auto& grower : report.growers) {
        if (!grower.to_claim) {
            continue;
        }
        const double rho = made.rho[at(grower.grower)];
        truth.push_back(rho);
        ratio.push_back(grower.to_claim->ratio);
        into.covered.bottom[at(k)] += 1.0;
        into.covered.top[at(k)] += rho >= grower.to_claim->low && rho <= grower.to_claim->high ? 1.0 : 0.0;
        const bool called = grower.call == audit::grower_call::runs_high || grower.call == audit::grower_call::runs_low;
        into.wrong.bottom[at(k)] += called ? 1.0 : 0.0;
        into.wrong.top[at(k)] += called && std::abs(rho / plan.mu - 1.0) <= calls.tolerance ? 1.0 : 0.0;
    }
    into.said.top[at(k)] = report.expected_false_share * report.called;
    into.said.bottom[at(k)] = report.called;
    into.spearman.top[at(k)] = bench::rank_correlation(truth, ratio);
    into.spearman.bottom[at(k)] = 1.0;
    into.bales.top[at(k)] = static_cast<double>(made.season.bales.size());
    into.bales.bottom[at(k)] = 1.0;
    if (plan.spots == 0) {
        score_plug_in(made, k, into.plug_in);
    }
    auto open = made.season;
    const double weight = put_back(open, open.bales.size() * 3 / 4);
    const auto total = audit::pooled_model(open, one_thread()).total();
    into.on_hand.top[at(k)] = weight >= total.on_hand_low && weight <= total.on_hand_high ? 1.0 : 0.0;
    into.on_hand.bottom[at(k)] = 1.0;
}

void print_design(const char* name, const bench::simulation& plan, int seasons, std::uint64_t seed,
                  const char* spearman, bool all) {
    design_scores scores(seasons);
    in_parallel(seasons, [&](int k) { score(plan, seed + static_cast<std::uint64_t>(k), k, scores); });
    std::printf("%s, %.0f bales\n", name, scores.bales.mean());
    print("Spearman's correlation of ratios with the truth", spearman, scores.spearman);
    print("95 % intervals of ratios cover", ".93", scores.covered);
    if (!all) {
        return;
    }
    print("plug-in intervals cover", ".855", scores.plug_in);
    print("share of calls that are wrong", ".13", scores.wrong);
    print("  as the report says it", ".10", scores.said);
    print("95 % interval of what is on hand covers", "-", scores.on_hand);
}

// One bale's weight made wrong, or one bundle gone missing before the scale.
void print_gross_errors(const bench::simulation& plan, int seasons, std::uint64_t seed) {
    shares found(seasons), alarms(seasons), missing(seasons), low(seasons);
    for (auto* one : {&found, &missing, &low}) {
        std::fill(one->bottom.begin(), one->bottom.end(), 1.0);
    }
    in_parallel(seasons, [&](int k) {
        auto made = bench::simulate(plan, seed + static_cast<std::uint64_t>(k));
        auto without = made.season;
        without.bales[0].net -= made.bundle_weight[0];
        const auto report = audit::find_gross_errors(without, one_thread());
        for (const auto& bale : report.suspects) {
            missing.top[at(k)] += bale.bale == 0 ? 1.0 : 0.0;
        }
        low.top[at(k)] = missing.top[at(k)] > 0.0 || report.t[0] < -1.644854 ? 1.0 : 0.0;
        made.season.bales[0].net *= 2.2;
        for (const auto& bale : audit::find_gross_errors(made.season, one_thread()).suspects) {
            (bale.bale == 0 ? found : alarms).top[at(k)] += 1.0;
        }
        alarms.bottom[at(k)] = plan.bales - 1;
    });
    std::printf("gross errors, mixed bales\n");
    print("bales of 2.2 times their weight found", ".93-.96", found);
    print("false alarms a clean bale", ".004", alarms);
    print("a missing bundle of ten found by weight, |t| > 3.5", ".05", missing);
    print("  its bale is low at a one-sided level of 5 %", "-", low);
}

// 150 bundles on hand, 20 of them chosen to be weighed alone.
void print_next(const bench::simulation& plan, int seasons, std::uint64_t seed) {
    shares before(seasons), after(seasons);
    in_parallel(seasons, [&](int k) {
        auto open = bench::simulate(plan, seed + static_cast<std::uint64_t>(k)).season;
        put_back(open, 45);
        const audit::pooled_model model(open, one_thread());
        const auto choices = model.weigh_next(20, audit::weigh_goal::total);
        const double percent = 100.0 / model.total().on_hand_expected;
        before.bottom[at(k)] = after.bottom[at(k)] = 1.0;
        before.top[at(k)] = choices.front().sd_before * percent;
        after.top[at(k)] = choices.back().sd_after * percent;
    });
    std::printf("20 of 150 bundles on hand weighed, as audit next chooses them\n");
    print("sd of what is on hand before, percent", "3.14", before);
    print("  and after", "2.10", after);
}

} // namespace

int main(int argc, char** argv) {
    const int seasons = argc > 1 ? std::atoi(argv[1]) : 400;
    const auto seed = static_cast<std::uint64_t>(argc > 2 ? std::atoll(argv[2]) : 1);
    if (seasons < 2) {
        std::fputs("usage: audit_coverage [seasons, at least 2] [first seed]\n", stderr);
        return 2;
    }
    std::printf("%d seasons of 100 growers, 16 sites, 600 bundles\n  %-58s %10s   here\n", seasons, "", "prototype");
    bench::simulation plan;
    print_design("mixed bales", plan, seasons, seed, ".52", true);
    auto spots = plan;
    spots.spots = 60;
    print_design("mixed bales and 60 spot weights", spots, seasons, seed, ".61", false);
    auto order = plan;
    order.in_order = true;
    print_design("pressed in order, every bale full", order, seasons, seed, ".70", false);
    auto both = order;
    both.spots = 60;
    print_design("pressed in order and 60 spot weights", both, seasons, seed, ".70", false);
    order.whole = true;
    print_design("pressed in order, nobody's bundles split over bales", order, seasons, seed, ".70", false);
    print_gross_errors(plan, seasons, seed);
    print_next(plan, seasons, seed);
    return 0;
}
