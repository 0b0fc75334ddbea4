#pragma once

#include <vector>

#include "audit/pooled_season.hpp"

// Whether a ticket's net is to be believed when it is typed in, from the tickets before it.
namespace tarewell::audit {

struct net_limits {
    int least_tickets = 5;   // fewer say nothing
    double doubt_from = 3.0; // |z|
    double block_from = 4.0;
    double least_of_claim = 0.4; // net over claim outside these always blocks
    double most_of_claim = 1.6;
    int most_neighbours = 200; // tickets that are asked, the nearest
};

enum class net_verdict { fits, doubtful, blocks };

struct expected_net {
    net_verdict verdict = net_verdict::fits;
    double of_claim = 0.0; // net over the bundles' estimates
    int tickets = 0;       // that spoke; 0: too few, only `of_claim` was judged
    double z = 0.0;        // the net's place in the predictive distribution, as a normal deviate
    double expected = 0.0; // mean of that distribution, in the nets' unit
    double low = 0.0;      // its central 95 %
    double high = 0.0;
};

// `earlier` holds the tickets before; `bale` the new bale's bundles (their `bale` plays no part; growers and sites may
// be new, with indices from earlier.growers and earlier.sites on). `net` > 0 and the claims > 0, or it blocks. Of many
// tickets those are asked that share growers, then those that share a site, then the last ones. Throws
// std::invalid_argument when an index of `earlier`, or a class of cover, is out of range.
expected_net judge_net(const pooled_season& earlier, const std::vector<pooled_bundle>& bale, double net,
                       const net_limits& limits = {});

// Each ticket of a season beside all its others, by leaving it out (`expected`, `low` and `high` are told where the
// verdict is not `fits`). Nets that block tell nothing of the others. Of many tickets those of a site and a time are
// held against each other, at most `most_neighbours` at once. Throws std::invalid_argument when an index is out of
// range.
std::vector<expected_net> judge_each_net(const pooled_season& season, const net_limits& limits = {});

} // namespace tarewell::audit
