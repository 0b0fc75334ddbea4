#pragma once
#include <cstddef>
#include <string_view>

namespace tarewell::quantity {

/// The first byte that is not valid UTF-8 or is a character no text should hold (NUL and other
/// control characters but tab and line ends, U+FFFE, U+FFFF); npos when all is well.
std::size_t first_bad_byte(std::string_view text);

} // namespace tarewell::quantity
