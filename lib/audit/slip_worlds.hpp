#pragma once

#include <memory>
#include <set>
#include <vector>

#include "audit/slip_fit.hpp"
#include "audit/slips.hpp"

// Inside of find_slips; not for other files.
namespace tarewell::audit {

// Prior odds and the search's limits (README.md says where they come from).
namespace slip_prior {
inline constexpr double ticket = .01;
inline constexpr double claim = .004;
} // namespace slip_prior

// ln of a wrong ticket's prior odds and of the density of its net: log-uniform within tenfold either way.
double log_prior_of_ticket(double net);
double log_prior_of_claim(std::size_t factor);

// What all worlds share.
struct slip_ground {
    const slip_season& season;
    int threads;
    std::vector<bale_block> blocks;
    std::vector<char> unusable;   // by bale: net of 0 or less
    std::vector<int> owner;       // grower of each registration
    std::vector<char> several;    // by grower: has several registrations
    std::vector<char> some_right; // by grower: one of its registrations is seen to be right
    int largest_class = 0;

    slip_ground(const slip_season& of, int threads);
    double net(int bale) const { return season.weighed.bales[static_cast<std::size_t>(bale)].net; }
    bool ticket_seen(int bale) const;
    bool claim_is_right(int registration) const;
    int grower_of(const claim_slip& slip) const;
};

// One set of slips and the model fitted in it.
struct fitted_world {
    std::set<int> tickets;
    std::vector<claim_slip> claims;  // ascending
    std::vector<double> class_scale; // claims are in units of their class's mean over the largest class's
    std::vector<double> correction;  // of each bundle's claim, without the class's scale
    pooled_season corrected;         // claims with both
    std::shared_ptr<const slip_fit> fit;
    double log_evidence = 0.0;
    double log_posterior = 0.0;

    bool slipped(const slip_ground& ground, int grower) const;
};

// `scale` empty: found in two rounds.
fitted_world make_world(const slip_ground& ground, std::set<int> tickets, std::vector<claim_slip> claims,
                        std::vector<double> scale);

// Log evidence of `world` with each bale's ticket left out besides, by bale; -infinity where that says nothing.
std::vector<double> without_each_bale(const fitted_world& world);

// Greedy from no slip; best first, those under .003 of the best dropped. Empty when the season cannot be fitted.
std::vector<fitted_world> find_worlds(const slip_ground& ground);

} // namespace tarewell::audit
