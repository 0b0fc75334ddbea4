#pragma once
#include <string>
#include <string_view>

namespace tarewell::records {

/// A to Z as a to z, all else as it stands.
std::string small_letters(std::string text);

/// What a person types twice in two ways stays one: letters and digits alone, in small letters; beyond ASCII as they
/// stand.
std::string letters_of(const std::string& text);

/// As people compare words: small letters without accents, Latin letters beyond ASCII as their plain ones (U+00C0 to
/// U+017F, and combining accents left out); all else as it stands.
std::string folded(std::string_view text);

/// Digits alone, as telephone numbers are compared.
std::string digits_of(std::string_view text);

} // namespace tarewell::records
