#pragma once
#include "figures/figure.hpp"
#include "records/season.hpp"

#include <optional>
#include <string>

namespace tarewell::render {

/// The workbook formula that works a figure out again from the named ranges of the evidence sheets, beginning
/// with '='. Named: TABLE_COLUMN for each evidence column, quarter_from, quarter_to, unit_per_ton, goal_tons,
/// match_percent, indirect_percent, subaward_limit, subawards_over_to_date, subawards_over_before, and each figure.
/// None for a figure whose formula is not known here: its value is shown plainly.
std::optional<std::string> formula_of(std::string_view figure, const ledger::award& award);

} // namespace tarewell::render
