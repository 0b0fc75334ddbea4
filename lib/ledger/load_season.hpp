#pragma once
#include "ledger/ledger.hpp"
#include "records/season.hpp"

namespace tarewell::ledger {

/// Reads everything in force as of `seq`. `see` is shown each row on the way.
records::season load_season(const ledger_file& from, entry_no seq,
                            const std::function<void(const stored_row&)>& see = {});

/// Adds what entries `from` to `to` recorded, as load_season would have them, to a season that was read as of the entry
/// before. False, and nothing is added, where one of them did something else, such as a correction: read it anew then.
bool follow(records::season& of, const ledger_file& file, entry_no from, entry_no to);

} // namespace tarewell::ledger
