#pragma once
#include "ledger/ledger.hpp"

#include <string>
#include <vector>

namespace tarewell::desk {

/// What a void leaves behind: flags that the paper raises since and did not before, then those it raises no more, a
/// line each. `before` is the last entry before the change. A large ledger is read around the records alone, and
/// nothing is told of more than a hundred.
std::vector<std::string> what_remains(const ledger::ledger_file& file, records::entry_no before);
/// The same by the paper around the records, whatever the ledger's size.
std::vector<std::string> what_remains_near(const ledger::ledger_file& file, records::entry_no before);

} // namespace tarewell::desk
