#pragma once

#include <vector>

#include "audit/fair_posterior.hpp"
#include "audit/slips.hpp"

// Inside of find_slips; not for other files.
namespace tarewell::audit {

// Ratio, interval and chances outside the tolerance, averaged over worlds.
void fill_ratio(const std::vector<double>& weight, const std::vector<fair_posterior>& worlds, int grower,
                const slip_options& options, fair_grower& into);

// Calls and letters of `report` from its ratios. `rests` by grower: P of the wrong claim without its strongest bale;
// `doubtful` by grower: one of its bales' tickets is in doubt.
void call_growers(const std::vector<double>& rests, const std::vector<char>& doubtful, const slip_options& options,
                  slip_report& report);

// For a season too large for many worlds: status, one world, slips and ratios; leaves `report` as it is when nothing
// can be fitted.
void find_slips_in_large(const slip_ground& ground, const slip_options& options, slip_report& report);

} // namespace tarewell::audit
