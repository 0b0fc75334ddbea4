#pragma once
#include "desk/rollup.hpp"

#include <string>

namespace tarewell::render {

/// Writes a rollup as a workbook: ledgers side by side and their sums as live formulas, which ledger is what, all
/// figures of each ledger, and notes. The same ledgers at the same entries give the same bytes. Throws
/// records::io_error.
void write_rollup_workbook(const std::string& path, const desk::rollup& of);

} // namespace tarewell::render
