#pragma once
#include "render/workbook_file.hpp"

struct lxw_workbook;
struct lxw_chart;

namespace tarewell::render {

/// A chart of the workbook with its series, axes and colours, not on a sheet yet; null when memory ran out. For
/// workbook_file alone.
lxw_chart* new_chart(lxw_workbook* book, const chart_setup& setup);

} // namespace tarewell::render
