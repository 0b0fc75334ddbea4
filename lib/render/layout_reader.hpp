#pragma once
#include "records/errors.hpp"
#include "render/layout.hpp"

#include <string>
#include <vector>

namespace tarewell::render {

struct layout_reading {
    layout made; ///< as far as it could be read
    std::vector<records::finding> findings;
};

/// Reads a layout in TOML. Findings: what is no TOML, unknown keys, kinds that do not exist, values of another type,
/// missing keys, and sheet names that a workbook cannot have. What its names mean is layout_check's matter.
layout_reading read_layout(const std::string& text);

} // namespace tarewell::render
