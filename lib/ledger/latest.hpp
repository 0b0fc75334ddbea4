#pragma once
#include "ledger/ledger.hpp"

namespace tarewell::ledger {

/// Calls `each` for the last records of a kind in force as of `seq`, at most `most` of them, the last entry first.
void for_each_latest(const ledger_file& from, kind which, entry_no seq, std::int64_t most,
                     const std::function<void(const stored_row&)>& each);

} // namespace tarewell::ledger
