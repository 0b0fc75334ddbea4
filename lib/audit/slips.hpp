#pragma once

#include <string>
#include <vector>

#include "audit/pooled_season.hpp"

// Who is called when something other than the grower may be wrong. A mistyped ticket or a forgotten layer of film pulls
// the ratios of all who share the bales; so slips are looked for first, and calls are averaged over the worlds that the
// weights leave open. The model, the priors and what was measured stand in README.md beside this file.
namespace tarewell::audit {

struct slip_season {
    // `basis` of a bundle is its class of cover (basis x structure). Bales of net 0 or less and the scales' divisions
    // play no part.
    pooled_season weighed;
    std::vector<int> registration;    // by bundle, 0 ..; each registration is one grower's
    std::vector<char> ticket_seen;    // by bale: the office has seen that its ticket is right; empty: none
    std::vector<char> claim_is_right; // by registration: the office has seen that its form is right; empty: none
};

struct slip_options {
    double level = 0.95;      // of intervals, in (0, 1)
    double tolerance = 0.10;  // of a ratio around 1, above 0
    double false_share = .10; // expected share of wrong calls among those called
    int threads = 2;
    // Cubes of the connected components' bales, added up. Above: the best world alone, at the most likely variances.
    double largest_work = 3e7;
};

// A claim that is to be multiplied by `factor`: one registration's, or all of a grower who has several.
struct claim_slip {
    bool all_of_grower = false;
    int index = 0; // registration, or grower
    double factor = 1.0;
    std::vector<double> shares; // P(factor) for each of slip_factors()
};

struct slip_world {
    double weight = 0.0; // P of this world among those kept
    double log_posterior = 0.0;
    double log_evidence = 0.0; // log marginal likelihood of the nets that count
    std::vector<int> wrong_tickets;
    std::vector<claim_slip> claims;
};

// Something to check: a bale's ticket, or a grower's claims.
struct slip_item {
    bool ticket = false;
    int index = 0; // bale, or grower
    double probability = 0.0;
};

struct named_slip {
    slip_item item;
    // Of claims: P when the bale on which that rests most says nothing, and that bale (-1: none).
    double without_one_bale = 1.0;
    int that_bale = -1;
    bool or_that_ticket = false; // "either this claim or that bale's ticket"
};

enum class fair_call {
    never_weighed,
    too_little_data,
    fits,
    runs_high, // claims more than the scale finds
    runs_low,
    check_first, // a slip explains it too well to say, and not well enough to name
};

enum class asked_cause {
    second_layer,
    a_dimension,
    thicker_film,
    wet_or_dirty,
    sizes,
    a_part_not_brought,
    thinner_film,
    layers_counted_twice,
};

struct fair_grower {
    // Weight over claim without the site's effect, 1: as the grower's classes of cover weigh.
    double ratio = 1.0;
    double low = 1.0;
    double high = 1.0;
    double p_runs_high = 0.0; // P(ratio < 1 - tolerance)
    double p_runs_low = 0.0;  // P(ratio > 1 + tolerance)
    double p_slip = 0.0;      // of a wrong claim that is no habit
    int bales = 0;            // weighed ones with something of this grower
    fair_call call = fair_call::never_weighed;
    bool letter = false;
    std::vector<asked_cause> ask; // with a letter; empty: no single cause is to be named
};

enum class slip_status {
    averaged,   // over all worlds kept
    best_world, // a large season: one world, at the most likely variances
    too_few,    // bales, or no scatter: nothing can be said
};

struct slip_report {
    slip_status status = slip_status::too_few;
    std::string sentence;
    std::vector<slip_world> worlds; // best first
    std::vector<fair_grower> growers;
    std::vector<double> p_ticket;       // by bale: that its ticket is wrong
    std::vector<double> p_registration; // by registration: that its claim is (alone, or with all of its grower's)
    std::vector<named_slip> named;      // P >= .6
    std::vector<slip_item> either;      // at most 3 of which one is wrong (P >= .9) while none is named
    std::vector<double> class_ratio;    // weight over claim by class in the world without a slip; 0: never weighed
    int called = 0;
    double expected_false_share = 0.0; // mean of 1 - P(outside) over those called
};

// The factors by which a slip's claim may be wrong, ascending, and their prior shares (which sum to 1).
const std::vector<double>& slip_factors();
const std::vector<double>& slip_factor_shares();

// Throws std::invalid_argument when an index or an option is out of range.
slip_report find_slips(const slip_season& season, const slip_options& options = {});

// The season as its best world has it: wrong tickets' bales without a weight (their bundles on hand), wrong claims
// multiplied by their factors.
pooled_season corrected_season(const slip_season& season, const slip_world& world);

} // namespace tarewell::audit
