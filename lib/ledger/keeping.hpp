#pragma once
#include "ledger/ledger.hpp"

#include <string>
#include <vector>

namespace tarewell::ledger {

// What keeps a ledger over the years: copies.

/// Copies the ledger to a new file while it may be in use (SQLite's backup API), whole or not at all. Returns the head
/// that was copied. Throws input_error when the file is there already, io_error when it cannot be written.
journal_head back_up(const ledger_file& from, const std::string& to);

/// Puts a backup in a ledger's place. A ledger that is there must be a beginning of the backup; one that has entries
/// which the backup lacks is not overwritten (input_error). A damaged one is kept under the name that is returned.
std::string restore(const std::string& backup, const std::string& to);

/// Hex SHA-256 of a file's bytes. Throws io_error.
std::string sha256_of_file(const std::string& path);

} // namespace tarewell::ledger
