#pragma once
#include "desk/answer.hpp"
#include "desk/season_view.hpp"

namespace tarewell::desk {

// What is asked of a year, of the whole award or of any span.

/// A period's quarters side by side: of each figure what every closed quarter filed, what the open ones have so far,
/// what changed since filing, and the period's own. Throws records::input_error for a quarter.
answer side_by_side(const quarter_seen& shown);

/// The goal, how far the award is, what the rest asks of each quarter, and what the tons of the period stand for.
answer pace_of(const quarter_seen& shown);

/// What the period cost by purpose and by site, a ton of it, and the next one.
answer costs_of(const quarter_seen& shown);

} // namespace tarewell::desk
