#pragma once
#include "ledger/embedded.hpp"

namespace tarewell::ledger {

/// report_templates/paper_*.mustache by name, built in by CMake.
std::span<const embedded_file> paper_files();

} // namespace tarewell::ledger
