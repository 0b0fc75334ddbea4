#pragma once
#include "desk/rollup.hpp"

#include <string>

namespace tarewell::render {

/// Writes a rollup as one HTML file in the look of all pages. Throws records::io_error.
void write_rollup_page(const std::string& path, const desk::rollup& of);

} // namespace tarewell::render
