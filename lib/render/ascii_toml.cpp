#include "render/ascii_toml.hpp"

#include <fmt/format.h>

#include <charconv>
#include <iterator>

namespace tarewell::render {

std::string in_ascii(std::string_view toml) {
    constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";
    if (toml.starts_with(byte_order_mark)) toml.remove_prefix(byte_order_mark.size());
    std::string made;
    made.reserve(toml.size());
    for (const char c : toml) {
        const auto byte = static_cast<unsigned char>(c);
        if (byte >= 0x80U || c == '~')
            fmt::format_to(std::back_inserter(made), "~{:02x}~", byte);
        else
            made += c;
    }
    return made;
}

std::string out_of_ascii(std::string_view text) {
    std::string made;
    made.reserve(text.size());
    constexpr std::size_t spelt = 4;
    for (std::size_t at = 0; at < text.size(); ++at) {
        unsigned char byte = 0;
        const auto digits = text.substr(at).starts_with('~') && at + spelt <= text.size() && text[at + 3] == '~'
                                ? text.substr(at + 1, 2)
                                : std::string_view{};
        const auto read = std::from_chars(digits.data(), digits.data() + digits.size(), byte, 16);
        if (digits.empty() || read.ec != std::errc{} || read.ptr != digits.data() + digits.size()) {
            made += text[at];
        } else {
            made += static_cast<char>(byte);
            at += spelt - 1;
        }
    }
    return made;
}

} // namespace tarewell::render
