#pragma once
#include "figures/table.hpp"

#include <string>
#include <vector>

namespace tarewell::figures {

/// A figure worked out a second time, from the cells of the evidence tables and not from the
/// season.
struct second_sum {
    std::string name;
    value filed; ///< the figure's value
    value second;
    value difference;  ///< filed less second; monostate where both are undefined
    bool ties = false; ///< the difference is 0, or both are undefined
    std::string way;   ///< how it was worked out, as a reviewer would with a filter and a sum
};

/// One for each figure of the report, in its order; a statistic stands for itself. The tables must be those of the
/// same season and basis; the award's terms and the subaward limit are read from the season.
std::vector<second_sum> second_sums(const report& report, const std::vector<table>& tables,
                                    const ledger::season& season);

} // namespace tarewell::figures
