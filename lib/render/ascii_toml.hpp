#pragma once
#include <string>
#include <string_view>

namespace tarewell::render {

/// A TOML text whose bytes beyond ASCII, and tildes, are spelt "~c3~": lines stay as they are, and outside of quotes
/// such a byte is no TOML, as before. toml++ 3.3 falls over letters beyond ASCII in many places where it expects none
/// (found by fuzzing), so it never meets one.
std::string in_ascii(std::string_view toml);

/// A text out of such a TOML as it was before.
std::string out_of_ascii(std::string_view text);

} // namespace tarewell::render
