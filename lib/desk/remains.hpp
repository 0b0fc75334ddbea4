#pragma once
#include "ledger/ledger.hpp"

#include <string>
#include <vector>

namespace tarewell::desk {

/// What a void leaves behind: flags that the paper raises since and did not before, then those it raises no more, a
/// line each. `before` is the last entry before the change. Empty in a ledger that is too large to be read whole for
/// one record (most_entries_told_at_once).
std::vector<std::string> what_remains(const ledger::ledger_file& file, records::entry_no before);

} // namespace tarewell::desk
