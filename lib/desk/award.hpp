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
/// Direct costs on the grant by a day that no request claims, less what program income paid of them.
struct costs_open {
    std::vector<std::size_t> costs; ///< places in the season
    quantity::money amount;
};
costs_open open_costs(const records::season& of, quantity::day on);

/// In-kind rates in force or past, and national values beside them.
answer award_rates(const season_view& seen, quantity::day on);

} // namespace tarewell::desk
