#pragma once
#include "context.hpp"

namespace tarewell::cli {

/// The day that an option gives; none where it is not given. Throws records::input_error for what is no date.
std::optional<quantity::day> day_given(const char* option, const std::string& text);
/// The day of --on, or today.
quantity::day day_or_today(const std::string& on, const context& with);

} // namespace tarewell::cli
