#pragma once
#include "ledger/embedded.hpp"

namespace tarewell::ledger {

/// report_templates/*.mustache and *.layout.toml by name, built in by CMake.
std::span<const embedded_file> template_files();

} // namespace tarewell::ledger
