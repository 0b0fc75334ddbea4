#pragma once

#include <string>
#include <vector>

// What the audit is told: bales that were weighed, and the bundles in them with their estimates.
// All weights are in one unit (the award's); indices are from 0.
namespace tarewell::audit {

struct pooled_bale {
    double net = 0.0;      // net weight; below 0 or not finite: left out, with a finding
    double division = 0.0; // the scale's division, 0 when unknown
};

struct pooled_bundle {
    int bale = -1; // -1: not weighed yet (on hand)
    int grower = 0;
    int site = 0;
    int basis = 0;         // of the estimate: the program's constant, thickness, own, ...
    double estimate = 0.0; // >= 0
};

struct pooled_season {
    int growers = 0;
    int sites = 0;
    int bases = 0;
    std::vector<pooled_bale> bales;
    std::vector<pooled_bundle> bundles;
};

enum class finding_kind {
    net_below_zero,        // item: bale
    net_not_finite,        // item: bale
    bale_without_estimate, // item: bale; weighed, but nothing to compare it with
    estimate_below_zero,   // item: bundle; its bale is left out
    estimate_zero,         // item: bundle
    spot_over_net,         // item: bale; its spot weights add up to more than its net
    bases_alike,           // item: basis; pooled as another one, so it shares its mean
    basis_never_weighed,   // item: basis; predicted as the commonest one
    one_site,              // item: -1; site differences cannot be seen
    one_grower,            // item: -1; grower differences cannot be seen
};

struct season_finding {
    finding_kind kind = finding_kind::estimate_zero;
    int item = -1;
    std::string sentence;
};

struct spot_weight {
    int bundle = 0;
    double weight = 0.0;
    double division = 0.0;
};

struct spot_season {
    pooled_season season;
    std::vector<int> bale_was; // for each bale of `season`: the bale given, or -1 for a spot weight
    std::vector<season_finding> findings;
};

// Makes each spot-weighed bundle a bale of its own and takes its weight and estimate off the bale
// it went into, so nothing counts twice. A bale whose bundles were all spot-weighed disappears; of
// several spot weights of one bundle the last counts. A rest below zero is left negative, which
// the model leaves out, and is reported; the rest's division grows to carry the spot scale's too.
// Throws std::invalid_argument when an index is out of range.
spot_season take_off_spot_weights(const pooled_season& season, const std::vector<spot_weight>& spots);

// Throws std::invalid_argument when an index is out of range or a count is negative.
void check_indices(const pooled_season& season);

} // namespace tarewell::audit
