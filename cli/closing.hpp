#pragma once
#include "context.hpp"

namespace tarewell::cli {

/// Adds `quarter close` and `quarter restate`.
void add_closing(CLI::App& quarter, context& with);

/// Adds `quarter note`.
void add_note(CLI::App& quarter, context& with);

} // namespace tarewell::cli
