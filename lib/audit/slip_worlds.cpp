#include "audit/slip_worlds.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numeric>
#include <utility>

namespace tarewell::audit {

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr int most_steps = 4;
constexpr std::size_t refitted = 4; // the most promising, at each step
constexpr double within = 6.0;      // of the best log posterior: worth a refit
constexpr double go_on_within = 3.5;
constexpr double least_share = .003; // of the best world's posterior

std::size_t at(std::int64_t index) { return static_cast<std::size_t>(index); }

// A slip by what it concerns, whatever the factor.
using claim_name = std::pair<bool, int>; // all of a grower, index
using world_name = std::pair<std::set<int>, std::vector<claim_name>>;

std::vector<claim_name> names_of(const std::vector<claim_slip>& claims) {
    std::vector<claim_name> names;
    for (const auto& slip : claims) {
        names.emplace_back(slip.all_of_grower, slip.index);
    }
    return names;
}

struct candidate {
    bool ticket = false;
    claim_slip claim;
    int bale = -1;
    double log_posterior = 0.0;
    world_name name;
};

// Worlds with one ticket less, exactly by deletion.
void scan_tickets(const slip_ground& ground, const fitted_world& world, std::vector<candidate>& found) {
    const auto without = without_each_bale(world);
    const double prior = world.log_posterior - world.log_evidence;
    for (const int bale : world.fit->bale_of_row()) {
        if (ground.ticket_seen(bale)) {
            continue;
        }
        candidate one;
        one.ticket = true;
        one.bale = bale;
        one.log_posterior = without[at(bale)] + prior + log_prior_of_ticket(ground.net(bale));
        one.name = {world.tickets, names_of(world.claims)};
        one.name.first.insert(bale);
        found.push_back(std::move(one));
    }
}

// What each bundle is expected to weigh in this world.
std::vector<double> expected_weights(const fitted_world& world) {
    const auto& season = world.corrected;
    std::vector<double> mean;
    for (int basis = 0; basis < season.bases; ++basis) {
        mean.push_back(world.fit->mean_of_class(basis));
    }
    std::vector<double> expected;
    for (const auto& bundle : season.bundles) {
        expected.push_back(bundle.estimate * mean[at(bundle.basis)]);
    }
    return expected;
}

// Worlds with one claim corrected, to first order: the nets are shifted by (F - 1) x the claim's expected weight.
void scan_claims(const slip_ground& ground, const fitted_world& world, bool all_of_grower,
                 const std::vector<double>& expected, std::vector<candidate>& found) {
    const auto taken = names_of(world.claims);
    const auto is_taken = [&](claim_name name) { return std::find(taken.begin(), taken.end(), name) != taken.end(); };
    const auto open = [&](int registration) {
        const int grower = ground.owner[at(registration)];
        if (all_of_grower) {
            return ground.several[at(grower)] != 0 && ground.some_right[at(grower)] == 0 &&
                   !world.slipped(ground, grower);
        }
        return !ground.claim_is_right(registration) && !is_taken({true, grower}) && !is_taken({false, registration});
    };
    std::vector<int> column_of;
    for (const int registration : ground.season.registration) {
        const int column = all_of_grower ? ground.owner[at(registration)] : registration;
        column_of.push_back(open(registration) ? column : -1);
    }
    const auto& fit = *world.fit;
    std::vector<int> which;
    const auto columns = fit.columns(world.corrected, expected, column_of, which);
    std::vector<std::size_t> points(fit.points().size());
    std::iota(points.begin(), points.end(), std::size_t{0});
    const auto values = fit.value(columns, points);
    const double base = world.log_posterior - log_sum_exp(fit.log_weight());
    std::vector<double> log_weight(points.size());
    for (std::size_t c = 0; c < which.size(); ++c) {
        const auto column = static_cast<Eigen::Index>(c);
        candidate one;
        one.claim.all_of_grower = all_of_grower;
        one.claim.index = which[c];
        for (std::size_t f = 0; f < slip_factors().size(); ++f) {
            const double x = slip_factors()[f] - 1.0;
            for (std::size_t j = 0; j < points.size(); ++j) {
                const auto point = static_cast<Eigen::Index>(j);
                const double residual = fit.points()[j].residual - 2.0 * x * values.score(point, column) +
                                        x * x * values.form(point, column);
                log_weight[j] = slip_grid().log_prior[j] - 0.5 * fit.points()[j].log_determinant -
                                0.5 * fit.freedom() * std::log(std::max(residual, 1e-300));
            }
            one.claim.shares.push_back(log_sum_exp(log_weight) + base + log_prior_of_claim(f));
        }
        one.log_posterior = log_sum_exp(one.claim.shares);
        const auto best = std::max_element(one.claim.shares.begin(), one.claim.shares.end());
        one.claim.factor = slip_factors()[at(best - one.claim.shares.begin())];
        for (auto& share : one.claim.shares) {
            share = std::exp(share - one.log_posterior);
        }
        one.name = {world.tickets, taken};
        one.name.second.emplace_back(all_of_grower, which[c]);
        std::sort(one.name.second.begin(), one.name.second.end());
        found.push_back(std::move(one));
    }
}

fitted_world with_slip(const slip_ground& ground, const fitted_world& parent, const candidate& slip) {
    auto claims = parent.claims;
    if (!slip.ticket) {
        claims.push_back(slip.claim);
        std::sort(claims.begin(), claims.end(), [](const claim_slip& a, const claim_slip& b) {
            return claim_name{a.all_of_grower, a.index} < claim_name{b.all_of_grower, b.index};
        });
    }
    return make_world(ground, slip.name.first, std::move(claims), parent.class_scale);
}

std::vector<candidate> one_slip_more(const slip_ground& ground, const fitted_world& parent,
                                     const std::map<world_name, fitted_world>& known) {
    std::vector<candidate> found;
    scan_tickets(ground, parent, found);
    const auto expected = expected_weights(parent);
    scan_claims(ground, parent, false, expected, found);
    scan_claims(ground, parent, true, expected, found);
    found.erase(
        std::remove_if(found.begin(), found.end(), [&](const candidate& one) { return known.count(one.name) != 0; }),
        found.end());
    std::stable_sort(found.begin(), found.end(),
                     [](const candidate& a, const candidate& b) { return a.log_posterior > b.log_posterior; });
    found.resize(std::min(found.size(), refitted));
    return found;
}

} // namespace

const std::vector<double>& slip_factors() {
    static const std::vector<double> factors{1.0 / 3, .4, .5, .6, 2.0 / 3, 1.5, 1.7, 2.0, 2.5, 3.0};
    return factors;
}

const std::vector<double>& slip_factor_shares() {
    static const std::vector<double> shares{.01, .02, .19, .05, .12, .12, .06, .40, .02, .01};
    return shares;
}

double log_prior_of_ticket(double net) {
    return std::log(slip_prior::ticket) - std::log(2.0 * std::log(10.0)) - std::log(net);
}

double log_prior_of_claim(std::size_t factor) { return std::log(slip_prior::claim * slip_factor_shares()[factor]); }

slip_ground::slip_ground(const slip_season& of, int with_threads)
    : season(of), threads(with_threads), blocks(connected_bales(of.weighed)) {
    for (const auto& bale : of.weighed.bales) {
        unusable.push_back(bale.net > 0.0 ? 0 : 1);
    }
    const auto growers = at(of.weighed.growers);
    const int registrations =
        of.registration.empty() ? 0 : 1 + *std::max_element(of.registration.begin(), of.registration.end());
    owner.assign(at(registrations), -1);
    several.assign(growers, 0);
    some_right.assign(growers, 0);
    std::vector<int> count(growers, 0);
    std::vector<double> by_class(at(std::max(of.weighed.bases, 1)), 0.0);
    for (std::size_t b = 0; b < of.registration.size(); ++b) {
        const auto& bundle = of.weighed.bundles[b];
        if (owner[at(of.registration[b])] < 0) {
            owner[at(of.registration[b])] = bundle.grower;
            several[at(bundle.grower)] = ++count[at(bundle.grower)] > 1 ? 1 : 0;
        }
        by_class[at(bundle.basis)] += bundle.estimate;
        if (claim_is_right(of.registration[b])) {
            some_right[at(bundle.grower)] = 1;
        }
    }
    largest_class = static_cast<int>(std::max_element(by_class.begin(), by_class.end()) - by_class.begin());
}

bool slip_ground::ticket_seen(int bale) const {
    return !season.ticket_seen.empty() && season.ticket_seen[at(bale)] != 0;
}

bool slip_ground::claim_is_right(int registration) const {
    return !season.claim_is_right.empty() && season.claim_is_right[at(registration)] != 0;
}

int slip_ground::grower_of(const claim_slip& slip) const {
    return slip.all_of_grower ? slip.index : owner[at(slip.index)];
}

bool fitted_world::slipped(const slip_ground& ground, int grower) const {
    return std::any_of(claims.begin(), claims.end(),
                       [&](const claim_slip& slip) { return ground.grower_of(slip) == grower; });
}

fitted_world make_world(const slip_ground& ground, std::set<int> tickets, std::vector<claim_slip> claims,
                        std::vector<double> scale) {
    fitted_world world;
    world.tickets = std::move(tickets);
    world.claims = std::move(claims);
    const auto& given = ground.season.weighed;
    auto left_out = ground.unusable;
    double prior = 0.0;
    for (const int bale : world.tickets) {
        left_out[at(bale)] = 1;
        prior += log_prior_of_ticket(ground.net(bale));
    }
    world.correction.assign(given.bundles.size(), 1.0);
    for (const auto& slip : world.claims) {
        for (std::size_t b = 0; b < given.bundles.size(); ++b) {
            const int registration = ground.season.registration[b];
            if (slip.index == (slip.all_of_grower ? given.bundles[b].grower : registration)) {
                world.correction[b] *= slip.factor;
            }
        }
        // Other factors than the best count too: the shares are to first order.
        const auto best = std::max_element(slip.shares.begin(), slip.shares.end());
        prior += log_prior_of_claim(at(best - slip.shares.begin())) - std::log(*best);
    }
    const bool known = !scale.empty();
    world.class_scale = known ? std::move(scale) : std::vector<double>(at(given.bases), 1.0);
    world.corrected = given;
    const auto fit = [&] {
        for (std::size_t b = 0; b < given.bundles.size(); ++b) {
            world.corrected.bundles[b].estimate =
                given.bundles[b].estimate * world.correction[b] * world.class_scale[at(given.bundles[b].basis)];
        }
        world.fit = std::make_shared<slip_fit>(world.corrected, left_out, ground.blocks, ground.threads);
    };
    fit();
    for (int round = 0; round < 2 && !known && given.bases > 1 && world.fit->usable(); ++round) {
        const double largest = world.fit->mean_of_class(ground.largest_class);
        for (int basis = 0; basis < given.bases; ++basis) {
            world.class_scale[at(basis)] *= std::clamp(world.fit->mean_of_class(basis) / largest, .2, 5.0);
        }
        fit();
    }
    world.log_evidence = world.fit->log_evidence();
    for (int basis = 0; basis < given.bases; ++basis) {
        if (world.fit->prepared().basis_weighed[at(basis)] != 0) {
            world.log_evidence += std::log(world.class_scale[at(basis)]);
        }
    }
    world.log_posterior = world.log_evidence + prior;
    return world;
}

std::vector<double> without_each_bale(const fitted_world& world) {
    const auto by_row = world.fit->without_each_row();
    std::vector<double> by_bale(world.corrected.bales.size(), -infinity);
    for (std::size_t row = 0; row < by_row.size(); ++row) {
        by_bale[at(world.fit->bale_of_row()[row])] = by_row[row] + world.log_evidence - world.fit->log_evidence();
    }
    return by_bale;
}

std::vector<fitted_world> find_worlds(const slip_ground& ground) {
    std::map<world_name, fitted_world> known;
    auto none = make_world(ground, {}, {}, {});
    if (!none.fit->usable()) {
        return {};
    }
    const auto* parent = &(known[{}] = std::move(none));
    double top = parent->log_posterior;
    for (int step = 0; step < most_steps; ++step) {
        const fitted_world* best = nullptr;
        for (const auto& slip : one_slip_more(ground, *parent, known)) {
            if (slip.log_posterior < top - within) {
                break;
            }
            auto world = with_slip(ground, *parent, slip);
            if (!world.fit->usable()) {
                continue;
            }
            top = std::max(top, world.log_posterior);
            const auto& kept = known[slip.name] = std::move(world);
            best = best == nullptr || kept.log_posterior > best->log_posterior ? &kept : best;
        }
        if (best == nullptr || best->log_posterior < top - go_on_within) {
            break;
        }
        parent = best;
    }
    std::vector<fitted_world> worlds;
    for (auto& [name, world] : known) {
        if (std::exp(world.log_posterior - top) > least_share) {
            worlds.push_back(std::move(world));
        }
    }
    std::stable_sort(worlds.begin(), worlds.end(),
                     [](const fitted_world& a, const fitted_world& b) { return a.log_posterior > b.log_posterior; });
    return worlds;
}

} // namespace tarewell::audit
