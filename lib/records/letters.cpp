#include "records/letters.hpp"

namespace tarewell::records {

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

} // namespace tarewell::records
