#pragma once
#include "figures/expression.hpp"
#include "figures/figure.hpp"

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace tarewell::figures {

/// Every figure but the statistics, by name, exactly and in its own unit.
using exact_figures = std::map<std::string_view, number>;
exact_figures exact_figures_of(const records::season& season, const reconcile::reckoning& reckoned, const basis& on);

/// What one ledger brings to a sum.
struct summand {
    std::string label; ///< "A", for what is said of it
    quantity::weight_unit unit = quantity::weight_unit::lb;
    quantity::decimal goal_tons;
    exact_figures figures;
};

/// A figure over several ledgers.
struct figure_summed {
    std::string name;
    figures::value value; ///< monostate: undefined, and `reason` says why
    std::string unit, meaning, reason;
    bool anew = false; ///< a rate, worked out from what is summed; else the ledgers' own sum
};

struct ledgers_summed {
    std::vector<figure_summed> figures; ///< in the order of all figures, less the statistics
    real goal_tons = 0;
};

/// Amounts sum, whatever they were reckoned from; a rate is reckoned by its own line from the sums, never averaged.
/// A weight of another unit is converted and rounded half up to a thousandth before it is summed, so that what is shown
/// sums. An amount that one ledger has not is undefined. Throws std::overflow_error past 64 bits.
ledgers_summed sum_of(const std::vector<const summand*>& ledgers, quantity::weight_unit in,
                      const quantity::period& period);

/// A weight in another unit, by the exact pound, rounded half up to a thousandth once. Throws std::overflow_error.
weight converted(weight of, quantity::weight_unit from, quantity::weight_unit to);

/// The formula of a rate over other figures' names, with '=' before it; none for what is summed.
std::optional<std::string> formula_of_rate(std::string_view figure);

} // namespace tarewell::figures
