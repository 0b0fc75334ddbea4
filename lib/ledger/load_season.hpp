#pragma once
#include "ledger/ledger.hpp"
#include "records/season.hpp"

namespace tarewell::ledger {

/// Reads everything in force as of `seq`. `see` is shown each row on the way.
records::season load_season(const ledger_file& from, entry_no seq, const std::function<void(const stored_row&)>& see = {});

} // namespace tarewell::ledger
