// Who is called, and which slips are named, on invented pilot seasons with one slip of a known kind:
//   audit_slips [seasons a kind = 200] [first seed = 1] [sd of claims' errors = .07]
// 40 growers at 4 sites, bales of 8 bundles; a grower's claims are off by a lognormal error, a bundle's weight by 8 %,
// a site's by 4 %. A call is wrong where the truth is within the tolerance or on the other side. A slip is plain where
// it moves its bales by 5 standard deviations and more of what their other bundles leave open. Then tickets typed in
// one after the other, one of them wrong: what is doubted and what is stopped at entry.

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <map>
#include <string>
#include <utility>

#include "audit/expected_net.hpp"
#include "audit/pooled_model.hpp"
#include "audit/random.hpp"
#include "audit/slips.hpp"

using namespace tarewell;

namespace {

enum class kind { none, forgotten_layer, mistyped_ticket, low_tunnels, heavy_site };

std::size_t at(int index) { return static_cast<std::size_t>(index); }

struct invented {
    audit::slip_season season;
    std::vector<double> truth; // of each grower, weight over claim as made, the class's and the site's part taken off
    int wrong_ticket = -1;
    int wrong_grower = -1;
    double strength = 0.0; // of the slip, in standard deviations of its bales' nets
};

constexpr int growers = 40;
constexpr int sites = 4;
constexpr int bundles_in_bale = 8;

// Claims and true weights; bales by site in order of delivery.
std::vector<double> add_bundles(invented& made, kind of, double error_sd, audit::seeded_random& random) {
    auto& weighed = made.season.weighed;
    weighed.growers = growers;
    weighed.sites = sites;
    weighed.bases = of == kind::low_tunnels ? 2 : 1;
    std::vector<double> weight;
    std::vector<double> site_ratio;
    for (int s = 0; s < sites; ++s) {
        site_ratio.push_back(1.0 + .04 * random.normal() + (of == kind::heavy_site && s == 0 ? .2 : 0.0));
    }
    int registrations = 0;
    for (int g = 0; g < growers; ++g) {
        const int site = g % sites;
        const int several = random.below(4) == 0 ? 2 : 1;
        made.truth.push_back(std::exp(error_sd * random.normal()));
        const int basis = of == kind::low_tunnels && random.below(3) == 0 ? 1 : 0;
        for (int r = 0; r < several; ++r, ++registrations) {
            const double size = 38.0 + 12.0 * random.uniform();
            const auto count = 3 + random.below(4);
            for (std::uint64_t b = 0; b < count; ++b) {
                weighed.bundles.push_back({-1, g, site, basis, std::round(100.0 * size) / 100.0});
                made.season.registration.push_back(registrations);
                weight.push_back(size * (basis == 1 ? .55 : .95) * made.truth.back() * site_ratio[at(site)] *
                                 (1.0 + .08 * random.normal()));
            }
        }
    }
    return weight;
}

void press(audit::pooled_season& season, const std::vector<double>& weight, audit::seeded_random& random) {
    for (int s = 0; s < sites; ++s) {
        std::vector<std::size_t> order;
        for (std::size_t b = 0; b < season.bundles.size(); ++b) {
            if (season.bundles[b].site == s) {
                // Deliveries overlap: a bundle is pressed up to eight places from where it came in.
                order.push_back(b);
            }
        }
        for (std::size_t k = 0; k + 1 < order.size(); ++k) {
            std::swap(order[k], order[std::min(order.size() - 1, k + random.below(bundles_in_bale))]);
        }
        for (std::size_t k = 0; k < order.size(); ++k) {
            if (k % bundles_in_bale == 0) {
                season.bales.push_back({0.0, 1.0});
            }
            season.bundles[order[k]].bale = static_cast<int>(season.bales.size()) - 1;
            season.bales.back().net += weight[order[k]];
        }
    }
    for (auto& bale : season.bales) {
        bale.net = std::round(bale.net);
    }
}

// A weight as a tired hand types it; moves it by 20 % and more.
double mistyped(double net, audit::seeded_random& random) {
    switch (random.below(4)) {
    case 0:
        return 10.0 * net;
    case 1:
        return std::max(1.0, std::floor(net / 10.0));
    case 2:
        return std::round(net / 2.20462);
    default:
        break;
    }
    auto digits = std::to_string(static_cast<int>(net));
    std::swap(digits[0], digits[1]);
    const double swapped = std::stod(digits);
    return swapped > 0.0 && std::abs(swapped / net - 1.0) >= .2 ? swapped : std::round(net * 1.9);
}

// By bale: standard deviation of its net, given the means.
std::vector<double> net_sd(const audit::pooled_season& season, double error_sd) {
    std::map<std::pair<int, int>, double> claim;
    std::vector<double> variance(season.bales.size(), 0.0);
    for (const auto& bundle : season.bundles) {
        claim[{bundle.bale, bundle.grower}] += bundle.estimate;
        variance[at(bundle.bale)] += std::pow(.08 * bundle.estimate, 2.0);
    }
    for (const auto& [of, sum] : claim) {
        variance[at(of.first)] += std::pow(error_sd * sum, 2.0);
    }
    std::transform(variance.begin(), variance.end(), variance.begin(), [](double v) { return std::sqrt(v); });
    return variance;
}

invented invent(kind of, double error_sd, std::uint64_t seed) {
    audit::seeded_random random(seed);
    invented made;
    const auto weight = add_bundles(made, of, error_sd, random);
    auto& weighed = made.season.weighed;
    press(weighed, weight, random);
    const auto sd = net_sd(weighed, error_sd);
    if (of == kind::mistyped_ticket) {
        made.wrong_ticket = static_cast<int>(random.below(weighed.bales.size()));
        auto& net = weighed.bales[at(made.wrong_ticket)].net;
        const double typed = mistyped(net, random);
        made.strength = std::abs(typed - net) / sd[at(made.wrong_ticket)];
        net = typed;
    }
    if (of == kind::forgotten_layer) {
        const int registration = made.season.registration[random.below(weighed.bundles.size())];
        double before = 0.0;
        double after = 0.0;
        for (std::size_t b = 0; b < weighed.bundles.size(); ++b) {
            made.wrong_grower =
                made.season.registration[b] == registration ? weighed.bundles[b].grower : made.wrong_grower;
        }
        std::map<int, double> moved;
        for (std::size_t b = 0; b < weighed.bundles.size(); ++b) {
            auto& bundle = weighed.bundles[b];
            moved[bundle.bale] += made.season.registration[b] == registration ? .5 * bundle.estimate : 0.0;
            before += bundle.grower == made.wrong_grower ? bundle.estimate : 0.0;
            bundle.estimate *= made.season.registration[b] == registration ? .5 : 1.0;
            after += bundle.grower == made.wrong_grower ? bundle.estimate : 0.0;
        }
        made.truth[at(made.wrong_grower)] *= before / after;
        for (const auto& [bale, by] : moved) {
            made.strength = std::hypot(made.strength, by / sd[at(bale)]);
        }
    }
    return made;
}

struct tally {
    int calls = 0, wrong = 0, named = 0, misnamed = 0, plain = 0, plain_named = 0;
    int covered = 0, intervals = 0, letters = 0, wrong_letters = 0, check_first = 0;
    int calls_before = 0, wrong_before = 0;
};

bool is_wrong(double truth, bool low) { return low ? truth <= 1.1 : truth >= .9; }

void score(const invented& made, tally& into) {
    audit::slip_options options;
    const auto report = audit::find_slips(made.season, options);
    for (std::size_t g = 0; g < report.growers.size(); ++g) {
        const auto& grower = report.growers[g];
        const double truth = made.truth[g];
        ++into.intervals;
        into.covered += truth >= grower.low && truth <= grower.high ? 1 : 0;
        into.check_first += grower.call == audit::fair_call::check_first ? 1 : 0;
        const bool low = grower.call == audit::fair_call::runs_low;
        if (low || grower.call == audit::fair_call::runs_high) {
            ++into.calls;
            into.wrong += is_wrong(truth, low) ? 1 : 0;
            into.letters += grower.letter ? 1 : 0;
            into.wrong_letters += grower.letter && is_wrong(truth, low) ? 1 : 0;
        }
    }
    const auto is_it = [&](const audit::slip_item& item) {
        return item.index == (item.ticket ? made.wrong_ticket : made.wrong_grower);
    };
    bool found = false;
    for (const auto& named : report.named) {
        const bool hit = is_it(named.item) || (named.or_that_ticket && named.that_bale == made.wrong_ticket);
        found = found || hit;
        into.misnamed += hit ? 0 : 1;
    }
    for (const auto& item : report.either) {
        found = found || is_it(item);
    }
    into.named += found ? 1 : 0;
    into.plain += made.strength >= 5.0 ? 1 : 0;
    into.plain_named += found && made.strength >= 5.0 ? 1 : 0;
    const auto before = audit::pooled_model(made.season.weighed).growers();
    for (std::size_t g = 0; g < before.growers.size(); ++g) {
        const bool low = before.growers[g].call == audit::grower_call::runs_low;
        if (low || before.growers[g].call == audit::grower_call::runs_high) {
            ++into.calls_before;
            into.wrong_before += is_wrong(made.truth[g], low) ? 1 : 0;
        }
    }
}

void print_kind(const char* name, kind of, int seasons, std::uint64_t seed, double error_sd) {
    tally all;
    for (int k = 0; k < seasons; ++k) {
        score(invent(of, error_sd, seed + static_cast<std::uint64_t>(k)), all);
    }
    const auto share = [](int part, int whole) { return whole > 0 ? static_cast<double>(part) / whole : 0.0; };
    std::printf(
        "  %-16s %d of %d wrong (%.3f) without looking for slips, %d of %d (%.3f) with; named %.3f, of the plain "
        "ones %d of %d; misnamed %d; coverage %.4f; check first %d; wrong letters %d of %d\n",
        name, all.wrong_before, all.calls_before, share(all.wrong_before, all.calls_before), all.wrong, all.calls,
        share(all.wrong, all.calls), share(all.named, seasons), all.plain_named, all.plain, all.misnamed,
        share(all.covered, all.intervals), all.check_first, all.wrong_letters, all.letters);
    std::fflush(stdout);
}

// Tickets in order; each is judged by those before it, then once more with one of them mistyped.
void print_entry(int seasons, std::uint64_t seed, double error_sd) {
    int tickets = 0, doubts = 0, stops = 0, typed = 0, caught = 0, stopped = 0;
    for (int k = 0; k < seasons; ++k) {
        const auto made = invent(kind::none, error_sd, seed + static_cast<std::uint64_t>(k));
        audit::seeded_random random(seed + 77 + static_cast<std::uint64_t>(k));
        auto earlier = made.season.weighed;
        std::vector<std::vector<audit::pooled_bundle>> inside(earlier.bales.size());
        for (const auto& bundle : earlier.bundles) {
            inside[at(bundle.bale)].push_back(bundle);
        }
        const auto all = earlier.bales;
        earlier.bales.clear();
        earlier.bundles.clear();
        for (std::size_t bale = 0; bale < all.size(); ++bale) {
            const auto judged = audit::judge_net(earlier, inside[bale], all[bale].net);
            ++tickets;
            doubts += judged.verdict == audit::net_verdict::doubtful ? 1 : 0;
            stops += judged.verdict == audit::net_verdict::blocks ? 1 : 0;
            if (judged.tickets > 0) {
                const auto slip = audit::judge_net(earlier, inside[bale], mistyped(all[bale].net, random));
                ++typed;
                caught += slip.verdict != audit::net_verdict::fits ? 1 : 0;
                stopped += slip.verdict == audit::net_verdict::blocks ? 1 : 0;
            }
            earlier.bales.push_back(all[bale]);
            earlier.bundles.insert(earlier.bundles.end(), inside[bale].begin(), inside[bale].end());
        }
    }
    std::printf("tickets at entry: of %d right ones doubted %.4f, stopped %.4f; of %d mistyped ones doubted or stopped "
                "%.3f, stopped %.3f\n",
                tickets, static_cast<double>(doubts) / tickets, static_cast<double>(stops) / tickets, typed,
                static_cast<double>(caught) / typed, static_cast<double>(stopped) / typed);
}

} // namespace

int main(int argc, char** argv) {
    const int seasons = argc > 1 ? std::atoi(argv[1]) : 200;
    const auto seed = static_cast<std::uint64_t>(argc > 2 ? std::atoll(argv[2]) : 1);
    const double error_sd = argc > 3 ? std::atof(argv[3]) : .07;
    std::printf("%d seasons a kind, claims' errors %.2f\n", seasons, error_sd);
    print_kind("no slip", kind::none, seasons, seed, error_sd);
    print_kind("forgotten layer", kind::forgotten_layer, seasons, seed, error_sd);
    print_kind("mistyped ticket", kind::mistyped_ticket, seasons, seed, error_sd);
    print_kind("low tunnels", kind::low_tunnels, seasons, seed, error_sd);
    print_kind("a heavy site", kind::heavy_site, seasons, seed, error_sd);
    print_entry(std::max(1, seasons / 4), seed, error_sd);
    return 0;
}
