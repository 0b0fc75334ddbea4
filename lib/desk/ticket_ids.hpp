#pragma once
#include "ledger/ledger.hpp"
#include "records/season.hpp"

#include <string>

namespace tarewell::desk {

/// Whether a ticket's number is another's by a slip of whoever typed it: one number written in two ways (T43, T0043,
/// TO043), or, where the scale's tickets go on by number, one that is past the next and has its digits in another order
/// or one digit wrong. The latest 200 tickets by `head` are looked at. A question in a sentence; empty where there is
/// none.
std::string doubt_of_number(const ledger::ledger_file& file, records::entry_no head, const records::season& of,
                            const records::ticket& made);

} // namespace tarewell::desk
