#pragma once
#include "render/layout_fill.hpp"

#include <functional>
#include <optional>

namespace tarewell::render {

// The sheets that are worked out and not chosen from a table, without title, lines and charts.

figures::cell cell_of(const figures::value& of);
look look_of(const figures::value& of, std::string_view unit);
/// Decimal places to which a difference is rounded: whole units, and for ratios what doubles hold safely.
int places_of(const figures::value& of);
/// A column by its letters: 0 is A, 26 is AA.
std::string letters_of(std::size_t column);
/// All rows and columns of a table as they stand.
sheet_data whole_sheet(figures::table rows);
sheet_data figures_sheet(const layout_sheet& of, const page_input& input);
/// One printed page; `text` fills in the names of a text.
sheet_data summary_sheet(const layout_sheet& of, const page_input& input,
                         const std::function<std::string(const placed&)>& text);
/// A period's quarters side by side, with sums that a reviewer can check; none of a quarter.
std::optional<sheet_data> quarters_sheet(const page_input& input);
sheet_data tie_out_sheet(const page_input& input, const std::vector<figures::table>& evidence);
sheet_data terms_sheet(const page_input& input);
sheet_data subawards_sheet(const page_input& input);
/// What each sheet before it and after it holds, and how the figures are made.
sheet_data method_sheet(const layout& of, const page_input& input, const table_shelf& tables);

} // namespace tarewell::render
