#pragma once
#include "render/layout_fill.hpp"

#include <string>

namespace tarewell::render {

/// Above so many rows a workbook need not stand in memory whole, and its tables are plain rows with filters.
constexpr std::size_t most_rows_with_tables = 50'000;

/// Writes a workbook of a layout without faults: live formulas with the values that they have now, tables, charts, and
/// a name for every figure. The same layout, report and marks give the same bytes. Throws records::io_error when it
/// cannot be written, records::input_error when a table has more rows than a sheet holds.
void write_workbook(const std::string& path, const layout& of, const page_input& input,
                    std::size_t rows_with_tables = most_rows_with_tables);

/// The same of sheets that are filled in already.
void write_sheets(const std::string& path, workbook_properties properties, const std::vector<sheet_data>& sheets,
                  std::size_t rows_with_tables = most_rows_with_tables);

} // namespace tarewell::render
