#pragma once
#include "render/layout_fill.hpp"

#include <string>

namespace tarewell::render {

/// Writes a workbook of a layout without faults: live formulas with the values that they have now, tables, charts, and
/// a name for every figure. The same layout, report and marks give the same bytes. A workbook of more than
/// most_rows_with_tables rows has filters instead of tables, so that it need not stand in memory whole. Throws
/// ledger::io_error when it cannot be written, ledger::input_error when a table has more rows than a sheet holds.
void write_workbook(const std::string& path, const layout& of, const page_input& input);

constexpr std::size_t most_rows_with_tables = 50'000;

} // namespace tarewell::render
