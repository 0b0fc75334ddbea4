#pragma once
#include "reconcile/reckoning.hpp"

namespace tarewell::reconcile {

/// The day on which an accepted bundle was no longer on hand: rejected since, or its bale weighed.
std::optional<day> left_on(const ledger::season& season, const reckoning& reckoned, bundle_place bundle);

std::optional<day> shipped_on(const ledger::season& season, const reckoning& reckoned, bale_place bale);

/// The later of weighing and shipment.
std::optional<day> shipped_and_weighed_on(const ledger::season& season, const reckoning& reckoned, bale_place bale);

/// The day on which a bale's net counts as diverted; none while it does not, and where acceptances count.
std::optional<day> counted_on(const ledger::season& season, const reckoning& reckoned, bale_place bale);

/// The day on which residue is taken off what is diverted; none where it takes nothing off.
std::optional<day> counted_on(const ledger::season& season, const reckoning& reckoned, const residue& each);

} // namespace tarewell::reconcile
