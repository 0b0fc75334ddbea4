#pragma once
#include <date/date.h>

#include <optional>
#include <string>
#include <string_view>

namespace tarewell::quantity {

/// A calendar day (no time zone).
using day = date::sys_days;

/// Reads ISO 8601 `2026-05-14` and nothing else; empty for a date that does not exist.
std::optional<day> read_day(std::string_view text);

/// As read_day for text that was checked before; throws std::invalid_argument otherwise.
day day_of(std::string_view text);

/// "2026-05-14"
std::string text_of(day value);

} // namespace tarewell::quantity
