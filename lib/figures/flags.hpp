#pragma once
#include "reconcile/flags.hpp"

namespace tarewell::figures {

/// Every flag of the season, in order of code, day and subject: those of the paper, the nets that the other tickets
/// do not let expect, and advances on hand for too long.
std::vector<reconcile::flag> flags_of(const records::season& season, const reconcile::reckoning& reckoned);

} // namespace tarewell::figures
