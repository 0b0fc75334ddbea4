#pragma once
#include <cstddef>
#include <string_view>

namespace tarewell::render {

/// The line of the first letter beyond ASCII that stands outside of quotes and comments of a TOML text, or just behind
/// a backslash in quotes; 0 when there is none. TOML has no place for such, and quotation marks of a word processor are
/// the usual ones.
std::size_t line_of_stray_letter(std::string_view text);

} // namespace tarewell::render
