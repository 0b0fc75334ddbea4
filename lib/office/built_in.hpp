#pragma once
#include "ledger/embedded.hpp"

namespace tarewell::ledger {

/// report_templates/office* by name, built in by CMake.
std::span<const embedded_file> office_files();

} // namespace tarewell::ledger
