#pragma once
#include "quantity/money.hpp"
#include "reconcile/tally.hpp"

namespace tarewell::grant {

using quantity::day;
using quantity::money;
using quantity::span_of_days;

/// What was spent from the grant on direct costs, dated in the days given. A cost row of category
/// `indirect` (only taken in without a percent) is not direct: it is in no figure, and is flagged.
reconcile::tally direct_on_grant(const ledger::season& of, span_of_days days);

/// Costs on match and in-kind support, dated in the days given.
reconcile::tally match_given(const ledger::season& of, span_of_days days);

/// Indirect costs through `last`: the award's percent of its base, rounded half up to the cent. The base
/// is direct grant costs less equipment and less what passes the limit in each subaward, never below 0
/// (2 CFR 200.1, modified total direct cost; the limit is a setting). An amended percent holds for what is added to
/// the base from its date on. Without a percent it is 0.
reconcile::tally indirect_through(const ledger::season& of, day last);

/// The base itself, in cents.
reconcile::tally indirect_base_through(const ledger::season& of, day last);

/// The grant and the match column of the budget in force on a day.
reconcile::tally budgeted_grant(const ledger::season& of, day on);
reconcile::tally budgeted_match(const ledger::season& of, day on);

/// The match that goes with `on_grant`, direct and indirect: with p percent of the total G p/(100 - p),
/// of the grant G p/100, rounded half up to the cent; 0 without a percent.
money match_required(const ledger::award& award, money on_grant);

} // namespace tarewell::grant
