#pragma once
#include "render/layout_fill.hpp"

#include <string>

namespace tarewell::render {

struct workbook_sizes {
    /// Above so many rows a workbook need not stand in memory whole, and its tables are plain rows with filters.
    std::size_t rows_with_tables = 50'000;
    /// A longer table goes on on further sheets.
    std::size_t rows_a_sheet = most_rows_a_sheet;
};

/// Writes a workbook of a layout without faults: live formulas with the values that they have now, tables, charts, and
/// a name for every figure. The same layout, report and marks give the same bytes. Throws records::io_error when it
/// cannot be written.
void write_workbook(const std::string& path, const layout& of, const page_input& input,
                    const workbook_sizes& sizes = {});

/// The same of sheets that are filled in already.
void write_sheets(const std::string& path, workbook_properties properties, const std::vector<sheet_data>& sheets,
                  std::size_t rows_with_tables = workbook_sizes{}.rows_with_tables);

} // namespace tarewell::render
