#pragma once
#include "figures/figure.hpp"

#include <optional>
#include <string>
#include <vector>

namespace tarewell::figures {

/// What came of one site over some days; bundles stand where they are reconciled
/// (side_by_side.hpp).
struct site_story {
    std::int64_t bundles = 0; ///< accepted
    weight estimate;          ///< of those
    std::int64_t growers = 0; ///< distinct growers of bundles accepted there, `unknown` left out
    std::int64_t rejected = 0;
    weight scale_weight; ///< shares of its bundles in the bales weighed
    real tons = 0;       ///< the same in tons of 2,000 lb
};
site_story story_of(records::site_place site, const records::season& season, const reconcile::reckoning& reckoned,
                    quantity::span_of_days days);

/// One bundle of a grower, with nothing in it that came after the last day.
struct bundle_story {
    std::string bundle, registration, received_at, reason, bale;
    std::int64_t number = 1, of = 1;
    quantity::day registered_on;
    weight estimate;
    std::optional<quantity::day> received_on, rejected_on, weighed_on;
    std::optional<weight> share;
};

/// What came of a grower's bundles through a day.
struct grower_story {
    std::int64_t registered = 0, received = 0, rejected = 0, weighed = 0;
    weight registered_estimate, received_estimate, weighed_estimate;
    weight share;                      ///< of the weighed bundles; a bale's net is shared over all in it
    std::optional<real> ratio;         ///< share over weighed_estimate
    std::optional<real> program_ratio; ///< the same of every grower together
    std::int64_t bales = 0;            ///< weighed bales that hold the grower's bundles
    std::int64_t mixed_bales = 0;      ///< those that hold other growers' bundles, too
    std::vector<bundle_story> bundles; ///< in the order of entry
    [[nodiscard]] weight difference() const { return share - weighed_estimate; }
};
grower_story story_of(records::grower_place grower, const records::season& season, const reconcile::reckoning& reckoned,
                      quantity::day last);

/// One part of the coordinator's paragraphs for a period.
struct narrative_part {
    std::string part;                    ///< done, problems, next, or the coordinator's own word
    std::string heading;                 ///< "What was done"
    std::vector<std::string> paragraphs; ///< the text's lines, empty ones left out
};

/// "done", "problems", "next".
std::vector<std::string> usual_parts_of_a_report();

/// done, problems and next first, then others in their order of entry.
std::vector<narrative_part> narrative_of(const records::season& of, const quantity::period& period);

} // namespace tarewell::figures
