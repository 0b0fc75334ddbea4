#pragma once
// Only for the sources of this room: the rows that a change names, and what the rules say once they are replaced.
#include "intake/change_all.hpp"
#include "intake/replay.hpp"
#include "ledger/neighbourhood.hpp"

#include <functional>

namespace tarewell::intake {

/// A row that stands to be replaced, with the entry that its replacement names.
struct target {
    ledger::entry_no row_entry = 0; ///< of the row's values
    ledger::entry_no replaces = 0;  ///< the entry in force: the row's own, or the void's
    records::owned_row values;
};

/// Throws refused with all findings.
[[noreturn]] void refuse(const std::vector<records::finding>& findings);
[[noreturn]] void refuse_one(const std::string& column, std::string what, std::string right);

/// Throws refused where a key has too many parts, or none.
void check_key(const records::kind_info& kind, const std::vector<std::string>& key);
std::string key_text(const records::kind_info& kind, const std::vector<std::string>& key);

/// The rows in force that a key names; with `with_voided`, those whose latest revision is a void too.
std::vector<target> targets_of(const ledger::ledger_file& file, records::kind which,
                               const std::vector<std::string>& key, ledger::entry_no head, bool with_voided);
/// Of a record's rows some may be voided: those stay so, unless the key names the row or none is in force.
void leave_voided(std::vector<target>& targets, const std::vector<std::string>& key);

/// A change's replay: of the records whose rules it can move, or of all where the kind moves all.
std::vector<records::finding> replay_change(const ledger::ledger_file& file, ledger::entry_no head, records::kind which,
                                            const std::vector<target>& targets, const substitutions& changed,
                                            const std::vector<const records::row*>& brought_back,
                                            ledger::neighbourhood::naming how, sight of);

/// A row of any kind stands in the ledger.
bool holds_any(const ledger::ledger_file& file, ledger::entry_no head,
               const std::function<bool(const records::row&)>& of_this_sort);

} // namespace tarewell::intake
