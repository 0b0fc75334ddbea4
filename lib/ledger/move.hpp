#pragma once
#include "ledger/ledger.hpp"

namespace tarewell::ledger {

/// Carries a ledger to a new place, a file or a database ("postgresql://..."): every entry with its act, time, person,
/// hash and contact details, erased where they were. Nobody writes to the old one meanwhile, and it stays as it is. The
/// new one stands there whole and verified, with the same head, or not at all. Returns the head. Throws input_error
/// when something stands at the new place already, ledger_error when the old one is not sound.
journal_head move_ledger(const std::string& from, const std::string& to);

/// By the owner of a ledger in a database: makes the groups tarewell_entry and tarewell_reader and gives them their
/// rights. Throws input_error for a file.
void make_roles(const ledger_file& of);

} // namespace tarewell::ledger
