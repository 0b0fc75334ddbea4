// Coverage, false share, rank correlation and power of the audit on invented pilot seasons:
//   audit_coverage [seasons = 400] [first seed = 1]
// Prints one row for each design. A season takes about 0.03 s.

#include <atomic>
#include <cstdio>
#include <cstdlib>
#include <thread>

#include "audit/gross_errors.hpp"
#include "audit/pooled_model.hpp"
#include "bench/audit_simulation.hpp"

using namespace tarewell;

namespace {

struct season_score {
    double covered = 0.0;
    double covered_bases = 0.0;
    double intervals = 0.0;
    double called = 0.0;
    double wrong = 0.0;
    double expected_wrong = 0.0;
    double outside = 0.0;
    double found = 0.0;
    double spearman = 0.0;
    double on_hand_covered = 0.0;
};

season_score score(const bench::simulation &plan, std::uint64_t seed) {
    const auto made = bench::simulate(plan, seed);
    const auto spotted = audit::take_off_spot_weights(made.season, made.spots);
    audit::pooled_options options;
    options.threads = 1;
    const audit::pooled_model model(spotted.season, options);
    audit::call_options calls;
    calls.call_group_members = true;
    const auto report = model.growers(calls);
    season_score result;
    std::vector<double> truth;
    std::vector<double> ratio;
    for (const auto &grower : report.growers) {
        if (!grower.to_claim) {
            continue;
        }
        const double rho = made.rho[static_cast<std::size_t>(grower.grower)];
        truth.push_back(rho);
        ratio.push_back(grower.to_claim->ratio);
        result.intervals += 1.0;
        result.covered += rho >= grower.to_claim->low && rho <= grower.to_claim->high ? 1.0 : 0.0;
        const double to_bases = rho / plan.mu;
        result.covered_bases +=
            to_bases >= grower.to_bases->low && to_bases <= grower.to_bases->high ? 1.0 : 0.0;
        const bool outside = std::abs(to_bases - 1.0) > calls.tolerance;
        const bool called = grower.call == audit::grower_call::runs_high ||
                            grower.call == audit::grower_call::runs_low;
        result.outside += outside ? 1.0 : 0.0;
        result.called += called ? 1.0 : 0.0;
        result.found += called && outside ? 1.0 : 0.0;
        result.wrong += called && !outside ? 1.0 : 0.0;
    }
    result.expected_wrong = report.expected_false_share * report.called;
    result.spearman = bench::rank_correlation(truth, ratio);

    // The last quarter of the bales put back on hand: is their weight inside its interval?
    auto open = made.season;
    const auto kept = open.bales.size() * 3 / 4;
    double weight = 0.0;
    for (std::size_t k = kept; k < open.bales.size(); ++k) {
        weight += open.bales[k].net;
    }
    open.bales.resize(kept);
    for (auto &bundle : open.bundles) {
        bundle.bale = bundle.bale >= static_cast<int>(kept) ? -1 : bundle.bale;
    }
    const auto total = audit::pooled_model(open, options).total();
    result.on_hand_covered =
        weight >= total.on_hand_low && weight <= total.on_hand_high ? 1.0 : 0.0;
    return result;
}

template <typename work> void in_parallel(int count, work &&each) {
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

void print_design(const char *name, const bench::simulation &plan, int seasons,
                  std::uint64_t seed) {
    std::vector<season_score> scores(static_cast<std::size_t>(seasons));
    in_parallel(seasons, [&](int k) {
        scores[static_cast<std::size_t>(k)] = score(plan, seed + static_cast<std::uint64_t>(k));
    });
    season_score sum;
    std::vector<double> by_season;
    for (const auto &one : scores) {
        sum.covered += one.covered;
        sum.covered_bases += one.covered_bases;
        sum.intervals += one.intervals;
        sum.called += one.called;
        sum.wrong += one.wrong;
        sum.expected_wrong += one.expected_wrong;
        sum.outside += one.outside;
        sum.found += one.found;
        sum.spearman += one.spearman;
        sum.on_hand_covered += one.on_hand_covered;
        by_season.push_back(one.covered / one.intervals);
    }
    std::sort(by_season.begin(), by_season.end());
    const auto tenth = by_season.size() / 10;
    const double worst =
        std::accumulate(by_season.begin(), by_season.begin() + static_cast<std::ptrdiff_t>(tenth),
                        0.0) /
        static_cast<double>(std::max<std::size_t>(tenth, 1));
    std::printf("%-34s %.3f    %.3f   %.3f    %.3f    %.3f   %5.1f   %.3f   %.3f    %.3f\n", name,
                sum.covered / sum.intervals, worst, sum.covered_bases / sum.intervals,
                sum.wrong / std::max(sum.called, 1.0),
                sum.expected_wrong / std::max(sum.called, 1.0), sum.called / seasons,
                sum.found / std::max(sum.outside, 1.0), sum.spearman / seasons, sum.on_hand_covered / seasons);
}

// One bale's weight made wrong, or one bundle gone missing before the scale.
void print_gross_errors(const bench::simulation &plan, int seasons, std::uint64_t seed) {
    std::atomic<int> found{0};
    std::atomic<int> missing_found{0};
    std::atomic<int> false_alarms{0};
    std::atomic<int> clean_bales{0};
    in_parallel(seasons, [&](int k) {
        auto made = bench::simulate(plan, seed + static_cast<std::uint64_t>(k));
        audit::pooled_options options;
        options.threads = 1;
        auto missing = made.season;
        missing.bales[0].net -= made.bundle_weight[0];
        for (const auto &bale : audit::find_gross_errors(missing, options).suspects) {
            missing_found += bale.bale == 0 ? 1 : 0;
        }
        made.season.bales[0].net *= 2.2;
        for (const auto &bale : audit::find_gross_errors(made.season, options).suspects) {
            (bale.bale == 0 ? found : false_alarms) += 1;
        }
        clean_bales += plan.bales - 1;
    });
    std::printf("\ngross errors of 2.2 times the weight found: %.3f; false alarms a bale: %.4f\n"
                "one of ten bundles missing, found by weight: %.3f\n",
                static_cast<double>(found) / seasons,
                static_cast<double>(false_alarms) / clean_bales,
                static_cast<double>(missing_found) / seasons);
}

} // namespace

int main(int argc, char **argv) {
    const int seasons = argc > 1 ? std::atoi(argv[1]) : 400;
    const auto seed = static_cast<std::uint64_t>(argc > 2 ? std::atoll(argv[2]) : 1);
    if (seasons < 1) {
        std::fputs("usage: audit_coverage [seasons] [first seed]\n", stderr);
        return 2;
    }
    std::printf("%d seasons of 100 growers, 16 sites, 60 bales of 10 bundles\n"
                "%-34s covers   worst   covers   wrong   said    calls   found   Spear-  on hand\n"
                "%-34s claim    tenth   bases    share           a season        man     covers\n",
                seasons, "design", "");
    bench::simulation plan;
    print_design("mixed bales", plan, seasons, seed);
    auto spots = plan;
    spots.spots = 60;
    print_design("mixed bales, 60 spot weights", spots, seasons, seed);
    auto order = plan;
    order.in_order = true;
    print_design("pressed in order", order, seasons, seed);
    auto equal = plan;
    equal.sd_grower = 0.0;
    equal.sd_site = 0.0;
    print_design("mixed bales, all growers alike", equal, seasons, seed);
    print_gross_errors(plan, seasons, seed);
    return 0;
}
