#pragma once
#include "ledger/ledger.hpp"

#include <map>
#include <vector>

namespace tarewell::intake {

/// Rows in force that a change replaces, by their entries; null: the row is taken out.
using substitutions = std::map<records::entry_no, const records::row*>;

/// Rows in force, by kind, in order of entry: the whole ledger's, or one record's neighbours.
using rows_in_force =
    std::function<void(records::kind, const std::function<void(records::entry_no, const records::row&)>&)>;
rows_in_force all_rows(const ledger::ledger_file& file, records::entry_no head);

/// Replays records in force through the rules, with some replaced, taken out or brought back as entry `next`: every
/// rule that would no longer hold.
std::vector<records::finding> replay(const rows_in_force& rows, records::entry_no next, const substitutions& changed,
                                     const std::vector<const records::row*>& brought_back);

} // namespace tarewell::intake
