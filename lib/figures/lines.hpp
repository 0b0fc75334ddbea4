#pragma once
#include "figures/expression.hpp"

namespace tarewell::figures {

/// What a figure is counted in; heft is in the award's unit.
enum class unit { bundles, growers, sites, bales, heft, dollars, tons, ratio, dollars_a_ton };

/// A figure told once: its value, the rows behind it, its formula in the workbook and its second sum follow.
struct line {
    std::string_view name;
    figures::unit unit;
    expression is; ///< null for a statistic, which the audit predicts (audit_figures.hpp)
    std::string_view meaning;
};

/// All figures, in their order.
const std::vector<line>& all_lines();

/// Throws std::logic_error where there is none.
const line& line_named(std::string_view name);

std::string name_of(unit of, quantity::weight_unit of_weight);
value value_of(const number& of, unit in);

} // namespace tarewell::figures
