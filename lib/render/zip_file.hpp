#pragma once
#include <string>

namespace tarewell::render {

/// Packs a folder with all in it into a new .zip; the same folder gives the same bytes. Names begin with the folder's
/// own. Throws records::io_error.
void write_zip_of(const std::string& folder, const std::string& path);

} // namespace tarewell::render
