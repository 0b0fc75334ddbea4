#pragma once
#include "figures/figure.hpp"
#include "ledger/ledger.hpp"

namespace tarewell::render {

/// Writes a new folder that a reviewer checks without this program: the quarter's report (workbook, page, JSON), the
/// journal as CSV through its as-of entry, the documents, a README and a manifest in sha256sum's format; all of one
/// state of the ledger. The folder stands whole or not at all. `templates` is the user's folder of forms, or empty.
/// Returns what it stands on. Throws form_refused, records::input_error, records::io_error.
figures::basis write_evidence_folder(ledger::ledger_file of, const std::string& quarter, const std::string& folder,
                                     const std::string& templates);

} // namespace tarewell::render
