#pragma once
#include "figures/table.hpp"

#include <string>
#include <vector>

namespace tarewell::figures {

/// What came of adding a figure up a second time.
enum class tie {
    ties,     ///< the difference is 0, or both are undefined
    differs,  //
    no_second ///< a statistic: predicted, and no sum of rows
};

/// A figure worked out a second time, from the cells of the evidence tables and not from the season's measures.
struct second_sum {
    std::string name;
    value filed; ///< the figure's value
    value second;
    value difference; ///< filed less second; monostate where one is undefined
    tie result = tie::differs;
    std::string way; ///< how it was worked out, as a reviewer would with a filter and a sum
};

/// "ties", "does not tie", "no second sum"
std::string name_of(tie result);

/// One for each figure of the report, in its order. The tables must be those of the same season and basis; the award's
/// terms and the subaward limit are read from the season.
std::vector<second_sum> second_sums(const report& report, const std::vector<table>& tables,
                                    const ledger::season& season, const reconcile::reckoning& reckoning);

} // namespace tarewell::figures
