#pragma once
#include "records/season.hpp"

#include <string>
#include <utility>
#include <vector>

namespace tarewell::render {

/// How a quarter's figures are made, a word and its explanation each, by the award's terms.
std::vector<std::pair<std::string, std::string>> method_notes(const records::award& award);

} // namespace tarewell::render
