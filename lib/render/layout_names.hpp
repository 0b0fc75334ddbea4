#pragma once
#include <string>
#include <vector>

namespace tarewell::render {

/// One line of what a layout may name, for README and `tarewell report names`.
struct layout_name_line {
    std::string name, kind, meaning;
};
/// Kinds of sheets and charts, tables with their columns, and how figures and texts are named.
std::vector<layout_name_line> layout_name_lines();

} // namespace tarewell::render
