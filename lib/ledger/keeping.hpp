#pragma once
#include "ledger/ledger.hpp"

#include <string>
#include <vector>

namespace tarewell::ledger {

// What keeps a ledger over the years: copies, erasures on request, source documents.

/// Copies the ledger to a new file while it may be in use (SQLite's backup API), whole or not at all. Returns the head
/// that was copied. Throws input_error when the file is there already, io_error when it cannot be written.
journal_head back_up(const ledger_file& from, const std::string& to);

/// Puts a backup in a ledger's place. A ledger that is there must be a beginning of the backup; one that has entries
/// which the backup lacks is not overwritten (input_error). A damaged one is kept under the name that is returned.
std::string restore(const std::string& backup, const std::string& to);

/// Erases a grower's name, farm, email and phone from every entry, and says so in the journal. Ids, weights and the
/// chain stay. Returns the erasure's entry, or 0 when nothing was left to erase. Throws input_error for a grower that
/// nothing defines.
entry_no erase_contact(ledger_file& in, const std::string& grower, const std::string& reason,
                       const surroundings& around);

/// Keeps a copy of a file by its SHA-256 in the folder beside the ledger, and its hash in the chain. `record` is a
/// kind's name and a key, "ticket T0001". Returns the entry, or 0 when that record has that document already. Throws
/// input_error for a record that is not there, io_error when the file cannot be copied.
entry_no attach(ledger_file& to, const std::string& kind_name, const std::string& key, const std::string& path,
                const surroundings& around);

/// The folder of a ledger's documents: its path and ".documents".
std::string documents_folder(const ledger_file& of);

/// Documents whose file is missing or whose bytes changed, each with what is wrong.
struct document_fault {
    entry_no entry;
    std::string record, name, what;
};
std::vector<document_fault> check_documents(const ledger_file& of);

/// Hex SHA-256 of a file's bytes. Throws io_error.
std::string sha256_of_file(const std::string& path);

} // namespace tarewell::ledger
