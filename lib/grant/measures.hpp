#pragma once
#include "reconcile/measure.hpp"

/// What a season measures of money, each adding its amount.
namespace tarewell::grant::measures {

using reconcile::measure;

/// Costs on the grant by the day incurred and by the day paid. A cost of category `indirect` (only taken in without a
/// percent) is not direct: it is in no figure, and is flagged.
extern const measure direct, paid;
extern const measure indirect_base; ///< of those, what is no equipment; capped in each subaward (account.hpp)
extern const measure match_costs, in_kind;
extern const measure grant_budget, match_budget; ///< in force on the last day
extern const measure payments;                   ///< from the agency
extern const measure paid_back;                  ///< of requests, what was paid or retained
extern const measure retained, released;         ///< kept back of payments, and let go again
extern const measure claimed;                    ///< in requests: their costs and indirect costs
extern const measure obligations; ///< on the grant, until their costs are incurred or they are deobligated
extern const measure income_earned, income_deducted, income_added; ///< program income; spent by its two methods
extern const measure income_matched;                               ///< spent as match, where no cost on match says it

} // namespace tarewell::grant::measures
