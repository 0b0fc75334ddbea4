#pragma once
#include "context.hpp"

namespace tarewell::cli {

/// What a command says of a period that it takes.
inline constexpr const char* one_of_periods = "2026-Q3, a year (2026), final, or a span (2026-04..2026-09)";

/// Adds `quarter close` and `quarter restate`.
void add_closing(const command& quarter, context& with);

/// Adds `quarter note`.
void add_note(const command& quarter, context& with);

} // namespace tarewell::cli
