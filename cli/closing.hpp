#pragma once
#include "context.hpp"

namespace tarewell::cli {

/// Adds `quarter close` and `quarter restate`.
void add_closing(const command& quarter, context& with);

/// Adds `quarter note`.
void add_note(const command& quarter, context& with);

} // namespace tarewell::cli
