#pragma once
#include "figures/figure.hpp"
#include "figures/table.hpp"
#include "ledger/season.hpp"

#include <string>

namespace tarewell::render {

/// What stands on a report besides its figures.
struct report_marks {
    std::string head_hash; ///< hex, of the as-of entry
    std::string as_of_at;  ///< UTC time of the as-of entry's act
};

/// Writes the quarter's workbook: a summary whose figures are live formulas over the evidence sheets, with the
/// values that they have now. The same figures, tables and marks give the same bytes. Throws ledger::io_error
/// when it cannot be written, ledger::input_error when a table has more rows than a sheet holds.
void write_quarter_workbook(const std::string& path, const figures::report& report,
                            const std::vector<figures::table>& tables, const ledger::season& season,
                            const report_marks& marks);

} // namespace tarewell::render
