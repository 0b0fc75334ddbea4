#pragma once
#include "render/layout.hpp"
#include "render/page.hpp"
#include "render/sheet_data.hpp"

#include <string>
#include <vector>

namespace tarewell::render {

/// A sheet has 1,048,576 rows; above and below a table stand its title, headings and totals.
constexpr std::size_t most_rows_a_sheet = 1'048'000;

struct filled_workbook {
    std::string title;
    std::vector<sheet_data> sheets;
};

/// A layout without faults with its values in place. A sheet of a table that the quarter has not (adjustments) is left
/// out, and so is a chart with nothing to draw. A figure is a formula where the workbook holds every name that the
/// formula refers to, and its value alone otherwise.
filled_workbook fill_layout(const layout& of, const page_input& input);

} // namespace tarewell::render
