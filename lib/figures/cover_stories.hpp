#pragma once
#include "figures/figure.hpp"

#include <string>
#include <vector>

namespace tarewell::figures {

/// How a cover of a grower's was really estimated, for the grower to follow.
struct cover_story {
    std::string registration, cover, structure;
    std::string size;    ///< "96 ft x 30 ft, 2 layers"; empty where the form doesn't give it
    std::string shape;   ///< "x 1.22 for the arc through its rise of 9 ft"
    std::string film;    ///< "6 mil film: 0.0287 lb/ft2", or by the program's own number
    std::string claimed; ///< what the bundles stand on: "122.688 lb", or "each bundle's own estimate"
};

/// The covers of what the grower registered through a day, in the order of entry.
std::vector<cover_story> cover_stories_of(records::grower_place grower, const records::season& season,
                                          const reconcile::reckoning& reckoned, quantity::day last);

} // namespace tarewell::figures
