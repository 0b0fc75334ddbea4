#pragma once
#include "reconcile/reckoning.hpp"

namespace tarewell::reconcile {

/// The day on which an accepted bundle was no longer on hand: rejected since, or its bale weighed.
std::optional<day> left_on(const records::season& season, const reckoning& reckoned, bundle_place bundle);

std::optional<day> shipped_on(const records::season& season, const reckoning& reckoned, bale_place bale);

/// The later of weighing and shipment.
std::optional<day> shipped_and_weighed_on(const records::season& season, const reckoning& reckoned, bale_place bale);

/// The day on which its shipment was accepted.
std::optional<day> accepted_on(const records::season& season, const reckoning& reckoned, bale_place bale);

/// The day on which a bale counts as diverted, by its net or by the weight accepted of its shipment; none while it does
/// not.
std::optional<day> counted_on(const records::season& season, const reckoning& reckoned, bale_place bale);

/// The day on which residue is taken off what is diverted; none where it takes nothing off. An accepted weight is after
/// all that the processor rejected by then: only what it rejected of the shipment later is taken off it.
std::optional<day> counted_on(const records::season& season, const reckoning& reckoned, const residue& each);

/// What was shipped of an acceptance's shipment by its bales' tickets, less what was rejected of it by that day; none
/// while a bale of it is not weighed.
std::optional<weight> shipped_weight(const records::season& season, const reckoning& reckoned,
                                     const records::acceptance& of);

} // namespace tarewell::reconcile
