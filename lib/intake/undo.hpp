#pragma once
#include "intake/intake.hpp"

namespace tarewell::intake {

/// One record that an undo takes out of force.
struct undone_record {
    records::entry_no entry = 0;
    records::kind which{};
    std::string key; ///< "T0004"
};

/// What an undo voids; or, in `standing`, why it cannot: the records that stand on what it would void, a sentence each.
struct undo_plan {
    std::vector<undone_record> records;
    std::vector<std::string> standing;
};

/// Looks at what undoing acts would void. Throws input_error for an act that is not there, and refused for one that
/// recorded nothing which can be voided: a correction, a void, a closing, a document, an erasure.
undo_plan plan_undo(const ledger::ledger_file& of, const std::vector<std::int64_t>& acts);

/// Voids all that acts recorded and that is active still, in one transaction. Taking the same records in from a file
/// again brings them back. Throws as plan_undo, and refused where later records stand on them.
change_summary undo(ledger::ledger_file& in, const std::vector<std::int64_t>& acts, const std::string& why,
                    const ledger::surroundings& around);

/// True for the command of an act that undid others.
bool is_undo(std::string_view command);

} // namespace tarewell::intake
