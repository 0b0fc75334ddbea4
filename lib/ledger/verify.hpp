#pragma once
#include "ledger/ledger.hpp"

#include <functional>
#include <string>
#include <vector>

namespace tarewell::ledger {

/// One thing that should not be in a sound ledger.
struct unsound {
    entry_no entry = 0; ///< 0: the file as a whole
    std::string what;
};

/// One entry as it goes into the chain, for those who check it without us.
struct chained_entry {
    journal_entry entry;
    std::string once, source_sha256;
    std::string values; ///< values_form: the bytes that were hashed
};

/// Calls `each` for every entry from the first through `seq`. Throws ledger_error when a row is missing.
void for_each_chained_entry(const ledger_file& of, entry_no seq, const std::function<void(const chained_entry&)>& each);

/// SQLite's own checks, foreign keys, the hash chain from the first entry, contact details against their digests,
/// rows without an entry and acts without one. Empty when all is sound.
std::vector<unsound> verify(const ledger_file& of);

} // namespace tarewell::ledger
