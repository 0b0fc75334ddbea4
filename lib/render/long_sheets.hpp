#pragma once
#include "render/layout_fill.hpp"

namespace tarewell::render {

/// A table of more rows goes on on further sheets, "Bundles (2)" and so on, right after its first. Its columns' names
/// go on too (bundles_share_sheet_2), and where a formula counted or summed one range it counts or sums them all.
void split_long_sheets(filled_workbook& of, std::size_t most_rows);

/// A formula's COUNTIFS, SUMIFS and SUM over the names of split tables, as the sum over all their sheets. `sheets`
/// gives the number of sheets of each split name.
std::string across_sheets(const std::string& formula, const std::map<std::string, std::size_t>& sheets);

} // namespace tarewell::render
