#pragma once
#include "ledger/ledger.hpp"

#include <string>
#include <vector>

namespace tarewell::figures {

/// Everything in a ledger held against everything else: the file and its chain (ledger/verify.hpp), every rule between
/// records, every closed quarter's figures worked out again, every document's bytes. Each finding is a sentence; empty
/// when all is sound.
std::vector<std::string> unsound_in(const ledger::ledger_file& file);

} // namespace tarewell::figures
