#pragma once
#include <string>

namespace tarewell::tests {

/// A place of the source tree, such as "sample_data/season", as an absolute path.
std::string source_path(const std::string& below);

/// The program that was built with the tests.
std::string program_path();

} // namespace tarewell::tests
