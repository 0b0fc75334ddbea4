#pragma once
#include "desk/answer.hpp"
#include "ledger/ledger.hpp"

namespace tarewell::desk {

/// One person under two ids: what is registered for `gone` counts as `kept`'s, in everything asked from then on; what
/// was filed stays. Both are ids or names. Throws records::input_error for one that is not there, is the other, would
/// make a circle, or whose details were erased.
answer merge_growers(ledger::ledger_file& file, const std::string& kept, const std::string& gone,
                     const std::string& why, const ledger::surroundings& around);

/// Erases the contact details of a person for good, under each of its ids; `grower` is one. Returns the entries, none
/// where nothing was left to erase.
std::vector<records::entry_no> erase_person(ledger::ledger_file& file, const std::string& grower,
                                            const std::string& why, const ledger::surroundings& around);

} // namespace tarewell::desk
