#pragma once
#include "desk/answer.hpp"
#include "desk/season_view.hpp"

namespace tarewell::desk {

// The award's reports and money on a day.

/// Reports with their due dates, and how long records are kept; found where one is late.
answer award_calendar(const season_view& seen, quantity::day on);
/// Budget lines against what was spent, and the running share of moves between them.
answer award_budget(const season_view& seen, quantity::day on);
/// Requests with what was paid of them, and direct costs on the grant that none claims.
answer award_requests(const season_view& seen, quantity::day on);
/// In-kind rates in force or past, and national values beside them.
answer award_rates(const season_view& seen, quantity::day on);

} // namespace tarewell::desk
