#pragma once
// Only for the sources of this room.
#include "ledger/image.hpp"

namespace tarewell::ledger {

/// The next segment of an image, through the ledger's head.
std::string segment_after(const ledger_file& file, const image& before, const journal_head& head);

/// Where an image holds another row than its ledger; empty where all are the same.
std::string difference(const ledger_file& file, const image& made);

} // namespace tarewell::ledger
