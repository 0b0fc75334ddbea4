#pragma once
#include "context.hpp"

namespace tarewell::cli {

/// Writes a new folder that a reviewer checks without this program: the quarter's report (workbook, page, JSON), the
/// journal as CSV through its as-of entry, the documents, a README and a manifest in sha256sum's format. The folder
/// stands whole or not at all.
void write_evidence_folder(const std::string& quarter, const std::string& folder, context& with);

} // namespace tarewell::cli
