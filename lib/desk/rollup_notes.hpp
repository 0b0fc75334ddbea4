#pragma once
#include "desk/rollup.hpp"

namespace tarewell::desk {

/// What a reader of the sums must know, a sentence or two each: what is filed and what is open, units, days, what
/// counts in several ledgers, what is 0, how figures go together.
std::vector<std::string> notes_of(const rollup& of);

/// "A, C and D"
std::string labels_in_words(const std::vector<std::string>& labels);

} // namespace tarewell::desk
