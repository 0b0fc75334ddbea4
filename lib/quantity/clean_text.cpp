#include "quantity/clean_text.hpp"

namespace tarewell::quantity {
namespace {

bool is_continuation(unsigned char byte) { return (byte & 0xC0U) == 0x80U; }

/// Length of the well-formed UTF-8 character at `at` (Unicode 15, table 3-7), or 0.
std::size_t character_at(std::string_view text, std::size_t at) {
    const auto byte = [&](std::size_t i) {
        return at + i < text.size() ? static_cast<unsigned char>(text[at + i]) : 0U;
    };
    const unsigned first = byte(0);
    if (first < 0x80) return 1;
    if (first < 0xC2) return 0;
    const auto second = static_cast<unsigned char>(byte(1));
    if (!is_continuation(second)) return 0;
    if (first < 0xE0) return 2;
    if (!is_continuation(static_cast<unsigned char>(byte(2)))) return 0;
    if (first < 0xF0) {
        if ((first == 0xE0 && second < 0xA0) || (first == 0xED && second >= 0xA0)) return 0;
        return 3;
    }
    if (first > 0xF4 || !is_continuation(static_cast<unsigned char>(byte(3)))) return 0;
    if ((first == 0xF0 && second < 0x90) || (first == 0xF4 && second >= 0x90)) return 0;
    return 4;
}

bool is_forbidden_control(unsigned char byte) { return byte < 0x20 && byte != '\t' && byte != '\n' && byte != '\r'; }

} // namespace

std::size_t first_bad_byte(std::string_view text) {
    for (std::size_t at = 0; at < text.size();) {
        const auto byte = static_cast<unsigned char>(text[at]);
        if (byte < 0x80) {
            if (is_forbidden_control(byte)) return at;
            ++at;
            continue;
        }
        const std::size_t length = character_at(text, at);
        if (length == 0) return at;
        if (length == 3 && byte == 0xEF && static_cast<unsigned char>(text[at + 1]) == 0xBF &&
            static_cast<unsigned char>(text[at + 2]) >= 0xBE)
            return at;
        at += length;
    }
    return std::string_view::npos;
}

} // namespace tarewell::quantity
