#pragma once
#include "render/form_check.hpp"
#include "render/layout.hpp"

#include <string>
#include <vector>

namespace tarewell::render {

/// Every fault of a layout as "FILE:LINE:NAME: what; what would be right", in order of the lines: what read_layout
/// finds, and names of figures, tables, columns, sheets and texts that are not known.
std::vector<std::string> layout_faults(const form_text& form);

/// The layout of a form without a fault. Throws records::refused with all of them.
layout need_layout(const form_text& form);

} // namespace tarewell::render
