#pragma once
#include "figures/figure.hpp"
#include "ledger/ledger.hpp"

#include <string>
#include <vector>

namespace tarewell::figures {

/// Everything in a ledger held against everything else: the file and its chain (ledger/verify.hpp), every rule between
/// records, every closed quarter's figures worked out again, every document's bytes. Each finding is a sentence; empty
/// when all is sound.
std::vector<std::string> unsound_in(const ledger::ledger_file& file);

/// The names of figures in a closing's text that the report gives otherwise, set apart by commas; empty when there is
/// none. A later program may know more figures, or by another rule.
std::string filed_otherwise(const std::string& filed, const report& now);

} // namespace tarewell::figures
