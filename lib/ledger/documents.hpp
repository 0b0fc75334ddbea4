#pragma once
#include "ledger/ledger.hpp"

#include <optional>
#include <string>

namespace tarewell::ledger {

// The bytes of source documents, by their SHA-256 in hex: in a folder beside a ledger that is a file, in the database
// itself otherwise.

/// The folder of a file's documents: its path and ".documents". Empty for a ledger in a database.
std::string documents_folder(const ledger_file& of);
/// Nothing where it is missing. Throws io_error.
std::optional<std::string> document(const ledger_file& of, const std::string& sha256);
/// Keeps it whole or not at all; one that is there stays. Throws io_error.
void keep_document(ledger_file& in, const std::string& sha256, const std::string& bytes);

} // namespace tarewell::ledger
