#pragma once
#include "reconcile/flags.hpp"

namespace tarewell::figures {

/// Every flag of the season, in order of code, day and subject: those of the paper, and the nets that the other tickets
/// do not let expect.
std::vector<reconcile::flag> flags_of(const records::season& season, const reconcile::reckoning& reckoned);

} // namespace tarewell::figures
