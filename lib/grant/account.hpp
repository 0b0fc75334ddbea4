#pragma once
#include "quantity/money.hpp"
#include "reconcile/measure.hpp"

#include <functional>
#include <map>
#include <string>

namespace tarewell::grant {

using quantity::day;
using quantity::money;

/// True for a cost that the base of indirect costs is summed from.
bool is_in_base(const ledger::cost& cost);

/// The base of indirect costs through `last`: direct grant costs less equipment and less what passes the limit in each
/// subaward, never below 0 (2 CFR 200.1, modified total direct cost; the limit is a setting).
money indirect_base_through(const ledger::season& of, day last);

/// A base from its sum and the sum of each subaward in it.
money capped_base(money sum, const std::map<std::string, money>& subawards, money limit);

/// The limit in each subaward on a day.
money subaward_limit_on(const ledger::season& of, day on);

/// Indirect costs through `last`: the award's percent of its base, rounded half up to the cent once. An amended percent
/// holds for what is added to the base from its date on. Without a percent it is 0. The base may be summed elsewhere.
money indirect_through(const ledger::season& of, day last);
money indirect_through(const ledger::season& of, day last, const std::function<money(day last)>& base_through);

/// The rows behind them: the base's costs, the award and its amendments; none without a percent.
void see_indirect_rows(const ledger::season& of, day last,
                       const std::function<void(const reconcile::evidence_row&)>& see);

/// True once the award's indirect percent was amended: each percent has its own part of the base.
bool percent_was_amended(const ledger::season& of, day last);

/// The match that goes with `on_grant`, direct and indirect: with p percent of the total G p/(100 - p),
/// of the grant G p/100, rounded half up to the cent; 0 where the award requires none.
money match_required(const ledger::award& award, money on_grant);
bool requires_match(const ledger::award& award);

} // namespace tarewell::grant
