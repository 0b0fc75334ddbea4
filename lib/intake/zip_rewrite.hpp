#pragma once
#include <map>
#include <string>
#include <string_view>

namespace tarewell::intake {

/// A zip file with some of its parts written anew. Every other part stays byte for byte, packed as it was, and in its
/// place among the others; names are read whatever their case. For a file whose parts zip_parts has listed. Throws
/// `unreadable` for one that is no plain zip file (of several volumes, or of the 64-bit kind), and where a part is
/// missing.
std::string with_parts(std::string_view zip, const std::map<std::string, std::string>& written_anew);

} // namespace tarewell::intake
