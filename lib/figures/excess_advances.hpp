#pragma once
#include "reconcile/flags.hpp"

#include <vector>

namespace tarewell::figures {

/// Flags of advances of which, after three business days, more is on hand than was paid by then by the rule of SF-425's
/// line 10b: costs on the grant paid, and indirect costs, less program income deducted.
std::vector<reconcile::flag> excess_advances(const records::season& season, const reconcile::reckoning& reckoned);

} // namespace tarewell::figures
