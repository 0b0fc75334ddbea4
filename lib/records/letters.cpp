#include "records/letters.hpp"

#include <array>

namespace tarewell::records {
namespace {

/// The plain letters of U+00C0 to U+017F (their canonical decompositions, Unicode Standard; the strokes and ligatures
/// as usage has them).
constexpr unsigned first_accented = 0xC0;
constexpr std::array<std::string_view, 192> plain_letters = {
    "a", "a", "a",  "a", "a", "a", "ae", "c",  "e", "e", "e",  "e",  "i", "i", "i",  "i",  "d", "n", "o",  "o",
    "o", "o", "o",  "",  "o", "u", "u",  "u",  "u", "y", "th", "ss", "a", "a", "a",  "a",  "a", "a", "ae", "c",
    "e", "e", "e",  "e", "i", "i", "i",  "i",  "d", "n", "o",  "o",  "o", "o", "o",  "",   "o", "u", "u",  "u",
    "u", "y", "th", "y", "a", "a", "a",  "a",  "a", "a", "c",  "c",  "c", "c", "c",  "c",  "c", "c", "d",  "d",
    "d", "d", "e",  "e", "e", "e", "e",  "e",  "e", "e", "e",  "e",  "g", "g", "g",  "g",  "g", "g", "g",  "g",
    "h", "h", "h",  "h", "i", "i", "i",  "i",  "i", "i", "i",  "i",  "i", "i", "ij", "ij", "j", "j", "k",  "k",
    "k", "l", "l",  "l", "l", "l", "l",  "l",  "l", "l", "l",  "n",  "n", "n", "n",  "n",  "n", "n", "n",  "n",
    "o", "o", "o",  "o", "o", "o", "oe", "oe", "r", "r", "r",  "r",  "r", "r", "s",  "s",  "s", "s", "s",  "s",
    "s", "s", "t",  "t", "t", "t", "t",  "t",  "u", "u", "u",  "u",  "u", "u", "u",  "u",  "u", "u", "u",  "u",
    "w", "w", "y",  "y", "y", "z", "z",  "z",  "z", "z", "z",  "s",
};

constexpr unsigned two_bytes(unsigned char lead, unsigned char next) { return (lead & 0x1FU) << 6U | (next & 0x3FU); }
constexpr bool is_combining_accent(unsigned point) { return point >= 0x300 && point < 0x370; }

} // namespace

std::string small_letters(std::string text) {
    for (char& c : text)
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    return text;
}

std::string letters_of(const std::string& text) {
    std::string kept;
    for (const char c : small_letters(text))
        if ((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || static_cast<unsigned char>(c) >= 0x80) kept += c;
    return kept;
}

std::string folded(std::string_view text) {
    std::string kept;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const auto lead = static_cast<unsigned char>(text[i]);
        if (lead < 0xC3 || lead > 0xCD || i + 1 == text.size()) {
            kept += text[i];
            continue;
        }
        const auto point = two_bytes(lead, static_cast<unsigned char>(text[i + 1]));
        const auto place = point - first_accented;
        if (place < plain_letters.size() && !plain_letters[place].empty())
            kept += plain_letters[place];
        else if (!is_combining_accent(point))
            kept += text.substr(i, 2);
        ++i;
    }
    return small_letters(std::move(kept));
}

std::string digits_of(std::string_view text) {
    std::string kept;
    for (const char c : text)
        if (c >= '0' && c <= '9') kept += c;
    return kept;
}

} // namespace tarewell::records
