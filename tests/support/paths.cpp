#include "paths.hpp"

// The build names both to this file alone: on every test's command line they would keep the compiler's cache from
// being shared between copies of the source tree.
namespace tarewell::tests {

std::string source_path(const std::string& below) { return std::string{TAREWELL_SOURCE_DIR} + "/" + below; }

std::string program_path() { return TAREWELL_PROGRAM; }

} // namespace tarewell::tests
