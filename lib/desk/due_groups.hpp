#pragma once
#include "desk/due.hpp"

namespace tarewell::desk {

due_group reports_due(const season_view& seen, day on);
due_group doubts_that_block(const season_view& seen);
due_group costs_not_claimed(const season_view& seen, day on);
due_group bundles_not_received(const season_view& seen, day on);
due_group bales_not_weighed(const season_view& seen, day on);
due_group loads_not_accepted(const season_view& seen, day on);
due_group papers_missing(const season_view& seen);
due_group sites_near_capacity(const season_view& seen, day on);
due_group registrations_without_sizes(const season_view& seen);

/// "1 day", "18 days"
std::string days_in_words(std::int64_t days);
/// "352.4 lb"
std::string weight_in_words(const season_view& seen, quantity::weight of);

} // namespace tarewell::desk
