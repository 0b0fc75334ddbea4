#pragma once
#include "figures/figure.hpp"

#include <optional>
#include <string>
#include <vector>

namespace tarewell::figures {

/// What a period cost for one purpose, or at one site, each expense counted once.
struct cost_line {
    std::string name;    ///< a purpose or a site's id; "not said", "indirect costs", "program income as match"
    std::string heading; ///< for people: "Baling", a site's name
    money grant, match, in_kind;
    real hours = 0;   ///< of volunteers
    weight collected; ///< of a site: scale weight of the bundles accepted there, in bales weighed in the period
    std::optional<real> per_ton; ///< dollars: of a purpose, over the tons diverted; of a site, over its own tons
    std::optional<real> hours_per_ton;
    [[nodiscard]] money total() const { return grant + match + in_kind; }
};

/// What one more ton would cost if the costs of a step grow as the tons do.
struct next_ton {
    std::optional<real> low; ///< what is said to be for a step (collect, bale, haul, process), without equipment, a ton
    std::optional<real> high; ///< with what has no purpose, as if all of it were for a step; equal where all is said
    std::string why_not;      ///< where it is not known
};

struct cost_steps {
    /// Purposes in their order with a line for each, then what is not said, indirect costs, and program income as match
    /// where there is any. Their sum is `total`: grant_spent + indirect_claimed + match_given of the period.
    std::vector<cost_line> purposes;
    std::vector<cost_line> sites; ///< by id; last, without an id, what names no site; their sum is `total`, too
    cost_line total;
    real tons = 0; ///< diverted in the period
    figures::next_ton next_ton;
    bool any_said = false; ///< a cost or contribution of the period has a purpose
};
cost_steps cost_steps_of(const records::season& season, const reconcile::reckoning& reckoned, const report& of);

/// How the next ton is reckoned, in a sentence or two.
inline constexpr const char* next_ton_in_words =
    "What is said to be for collecting, baling, hauling and processing, equipment apart, over the tons diverted: it "
    "takes "
    "it that these grow as the tons do. Running the program and indirect costs are taken to stay. Where costs have no "
    "purpose, the higher end counts them all as steps.";

/// "Collecting", "Baling", "Hauling", "Processing", "Program itself", "Not said".
std::string purpose_heading(std::string_view purpose);

} // namespace tarewell::figures
