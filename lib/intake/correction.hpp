#pragma once
// Only for the sources of this room.
#include "intake/change_all.hpp"

namespace tarewell::intake {

/// Appends what replaces a record to the act that is begun; nothing where the ledger holds these values already.
std::vector<ledger::entry_no> append_correction(ledger::writer& writing, ledger::ledger_file& to, records::kind which,
                                                const std::vector<std::string>& key, const named_values& changes,
                                                sight of);

} // namespace tarewell::intake
