#pragma once
// Only for the sources of this room.
#include "ledger/engine.hpp"

namespace tarewell::ledger {

/// A statement of sql_of(kind) on its row; the views hold until it steps or is reset.
void read_row(query& from, stored_row& into);

} // namespace tarewell::ledger
