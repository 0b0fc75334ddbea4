#pragma once
#include "ledger/documents.hpp"

#include <string>
#include <vector>

namespace tarewell::intake {

// What a ledger keeps beside its records: source documents; and what it forgets on request.

/// Erases a grower's name, farm, email and phone from every entry, and says so in the journal. Ids, weights and the
/// chain stay. Returns the erasure's entry, or 0 when nothing was left to erase. Throws input_error for a grower that
/// nothing defines.
records::entry_no erase_contact(ledger::ledger_file& in, const std::string& grower, const std::string& reason,
                                const ledger::surroundings& around);

/// Keeps a copy of a file by its SHA-256 in the folder beside the ledger, and its hash in the chain. `record` is a
/// kind's name and a key, "ticket T0001". Returns the entry, or 0 when that record has that document already. Throws
/// input_error for a record that is not there, io_error when the file cannot be copied.
records::entry_no attach(ledger::ledger_file& to, const std::string& kind_name, const std::string& key,
                         const std::string& path, const ledger::surroundings& around);

using ledger::documents_folder;

/// Documents whose file is missing or whose bytes changed, each with what is wrong.
struct document_fault {
    records::entry_no entry;
    std::string record, name, what;
};
std::vector<document_fault> check_documents(const ledger::ledger_file& of);

} // namespace tarewell::intake
