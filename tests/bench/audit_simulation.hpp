#pragma once

#include <algorithm>
#include <cmath>
#include <numeric>
#include <vector>

#include "audit/pooled_season.hpp"
#include "audit/random.hpp"

// Invented seasons whose truth is known.
namespace tarewell::bench {

struct simulation {
    int growers = 100;
    int sites = 16;
    int bales = 60;
    int bundles_in_bale = 10;
    int spots = 0;         // bundles also weighed alone
    bool in_order = false; // one grower's bundles pressed together, each bale full
    bool whole = false;    // in order, and no grower's bundles split over two bales where they fit into one
    double mu = 1.0;
    double sd_grower = 0.20;
    double sd_site = 0.08;
    double sd_bundle = 0.25;
};

struct simulated_season {
    audit::pooled_season season;
    std::vector<audit::spot_weight> spots;
    std::vector<double> rho;           // true ratio of each grower
    std::vector<double> bundle_weight; // true weight of each bundle
};

// Presses bundles in this order; a grower's that do not fit into the site's open bale begin another.
inline void press_whole(audit::pooled_season& season, const std::vector<std::size_t>& order, const simulation& plan) {
    season.bales.clear();
    std::vector<int> open(static_cast<std::size_t>(plan.sites), -1);
    std::vector<int> room(static_cast<std::size_t>(plan.sites), 0);
    for (std::size_t from = 0; from < order.size();) {
        const auto& first = season.bundles[order[from]];
        std::size_t end = from;
        while (end < order.size() && season.bundles[order[end]].grower == first.grower) {
            ++end;
        }
        const auto site = static_cast<std::size_t>(first.site);
        if (open[site] < 0 || room[site] < static_cast<int>(end - from)) {
            open[site] = static_cast<int>(season.bales.size());
            room[site] = plan.bundles_in_bale;
            season.bales.push_back({});
        }
        room[site] -= static_cast<int>(end - from);
        for (; from < end; ++from) {
            season.bundles[order[from]].bale = open[site];
        }
    }
}

inline simulated_season simulate(const simulation& plan, std::uint64_t seed) {
    audit::seeded_random random(seed);
    simulated_season made;
    auto& season = made.season;
    season.growers = plan.growers;
    season.sites = plan.sites;
    season.bases = 1;
    std::vector<double> site_effect;
    for (int s = 0; s < plan.sites; ++s) {
        site_effect.push_back(plan.sd_site * random.normal());
    }
    std::vector<std::vector<int>> at_site(static_cast<std::size_t>(plan.sites));
    std::vector<double> size; // how much a grower delivers
    for (int g = 0; g < plan.growers; ++g) {
        // The first growers make sure that each site has one.
        const auto site =
            g < plan.sites ? static_cast<std::size_t>(g) : random.below(static_cast<std::uint64_t>(plan.sites));
        at_site[site].push_back(g);
        made.rho.push_back(plan.mu + site_effect[site] + plan.sd_grower * random.normal());
        size.push_back(std::exp(0.6 * random.normal()));
    }
    for (int k = 0; k < plan.bales; ++k) {
        const auto site = random.below(static_cast<std::uint64_t>(plan.sites));
        std::vector<int> members;
        for (int b = 0; b < plan.bundles_in_bale; ++b) {
            double total = 0.0;
            for (const int g : at_site[site]) {
                total += size[static_cast<std::size_t>(g)];
            }
            double pick = random.uniform() * total;
            int chosen = at_site[site].back();
            for (const int g : at_site[site]) {
                pick -= size[static_cast<std::size_t>(g)];
                if (pick < 0.0) {
                    chosen = g;
                    break;
                }
            }
            season.bundles.push_back({k, chosen, static_cast<int>(site), 0, std::exp(3.8 + 0.6 * random.normal())});
        }
        season.bales.push_back({});
    }
    if (plan.in_order) {
        // The same bundles, each site's pressed grower by grower.
        std::vector<std::size_t> order(season.bundles.size());
        std::iota(order.begin(), order.end(), std::size_t{0});
        std::vector<std::vector<int>> bales_of(static_cast<std::size_t>(plan.sites));
        for (int k = 0; k < plan.bales; ++k) {
            bales_of[static_cast<std::size_t>(season.bundles[static_cast<std::size_t>(k * plan.bundles_in_bale)].site)]
                .push_back(k);
        }
        std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
            return season.bundles[a].grower < season.bundles[b].grower;
        });
        std::vector<int> placed(static_cast<std::size_t>(plan.sites), 0);
        if (plan.whole) {
            press_whole(season, order, plan);
            order.clear();
        }
        for (const auto b : order) {
            const auto site = static_cast<std::size_t>(season.bundles[b].site);
            const auto bale = static_cast<std::size_t>(placed[site]++ / plan.bundles_in_bale);
            season.bundles[b].bale = bales_of[site][bale];
        }
    }
    for (auto& bundle : season.bundles) {
        bundle.estimate = std::round(10.0 * bundle.estimate) / 10.0;
        const double weight =
            bundle.estimate * (made.rho[static_cast<std::size_t>(bundle.grower)] + plan.sd_bundle * random.normal());
        made.bundle_weight.push_back(weight);
        season.bales[static_cast<std::size_t>(bundle.bale)].net += weight;
    }
    for (auto& bale : season.bales) {
        bale.net = std::max(0.0, std::round(bale.net));
    }
    if (plan.spots > 0) {
        const auto chosen =
            audit::simple_random_sample(static_cast<int>(season.bundles.size()), plan.spots, random.bits());
        for (const int b : chosen) {
            made.spots.push_back({b, std::round(10.0 * made.bundle_weight[static_cast<std::size_t>(b)]) / 10.0, 0.0});
        }
    }
    return made;
}

// Five bundles a bale; `visitors` percent of the growers deliver to a second site too, and one bale in twenty is
// still to be weighed.
inline audit::pooled_season large_season(int growers, int bales, int sites, double visitors, std::uint64_t seed) {
    audit::seeded_random random(seed);
    audit::pooled_season season;
    season.growers = growers;
    season.sites = sites;
    season.bases = 2;
    const auto draw = [&](int count) { return static_cast<int>(random.below(static_cast<std::uint64_t>(count))); };
    std::vector<double> grower_effect;
    std::vector<double> site_effect;
    std::vector<int> second(static_cast<std::size_t>(growers), -1);
    std::vector<std::vector<int>> at_site(static_cast<std::size_t>(sites));
    for (int s = 0; s < sites; ++s) {
        site_effect.push_back(0.08 * random.normal());
    }
    for (int g = 0; g < growers; ++g) {
        grower_effect.push_back(0.2 * random.normal());
        at_site[static_cast<std::size_t>(g % sites)].push_back(g);
        if (100.0 * random.uniform() < visitors) {
            at_site[static_cast<std::size_t>(draw(sites))].push_back(g);
        }
    }
    for (int k = 0; k < bales; ++k) {
        const auto site = static_cast<std::size_t>(draw(sites));
        double net = 0.0;
        for (int b = 0; b < 5; ++b) {
            const auto& members = at_site[site];
            const int grower = members[static_cast<std::size_t>(draw(static_cast<int>(members.size())))];
            const double estimate = std::exp(3.8 + 0.6 * random.normal());
            const int basis = grower % 3 == 0 ? 1 : 0;
            const double ratio =
                (basis == 0 ? 0.97 : 1.05) + site_effect[site] + grower_effect[static_cast<std::size_t>(grower)];
            season.bundles.push_back({k % 20 == 19 ? -1 : static_cast<int>(season.bales.size()), grower,
                                      static_cast<int>(site), basis, estimate});
            net += estimate * (ratio + 0.25 * random.normal());
        }
        if (k % 20 != 19) {
            season.bales.push_back({std::max(net, 0.0), 0.0});
        }
    }
    return season;
}

inline std::vector<double> ranks(const std::vector<double>& values) {
    std::vector<std::size_t> order(values.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return values[a] < values[b]; });
    std::vector<double> result(values.size());
    for (std::size_t k = 0; k < order.size(); ++k) {
        result[order[k]] = static_cast<double>(k);
    }
    return result;
}

inline double rank_correlation(const std::vector<double>& a, const std::vector<double>& b) {
    const auto x = ranks(a);
    const auto y = ranks(b);
    const double mean = 0.5 * (static_cast<double>(x.size()) - 1.0);
    double xy = 0.0;
    double xx = 0.0;
    for (std::size_t k = 0; k < x.size(); ++k) {
        xy += (x[k] - mean) * (y[k] - mean);
        xx += (x[k] - mean) * (x[k] - mean);
    }
    return xx > 0.0 ? xy / xx : 0.0;
}

} // namespace tarewell::bench
