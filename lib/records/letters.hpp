#pragma once
#include <string>

namespace tarewell::records {

/// A to Z as a to z, all else as it stands.
std::string small_letters(std::string text);

/// What a person types twice in two ways stays one: letters and digits alone, in small letters; beyond ASCII as they
/// stand.
std::string letters_of(const std::string& text);

} // namespace tarewell::records
