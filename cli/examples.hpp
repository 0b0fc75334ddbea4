#pragma once
#include <string>
#include <string_view>

namespace tarewell::cli {

/// An example of a command as it is typed, by its path: "quarter close". Those of `correct`, `void` and `list` are made
/// from their kind. Empty where there is none: a command that only has others below it.
std::string example_of(const std::string& path);

} // namespace tarewell::cli
