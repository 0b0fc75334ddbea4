#pragma once
#include "figures/table.hpp"

namespace tarewell::figures {

/// What a report tells beside its figures: costs by purpose and by site, goal and pace, what the tons stand for, and of
/// a period that is no quarter its quarters, one figure of one quarter a row.
std::vector<table> period_tables(const records::season& season, const reconcile::reckoning& reckoned, const report& of);

} // namespace tarewell::figures
