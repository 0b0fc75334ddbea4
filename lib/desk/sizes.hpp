#pragma once
#include "desk/registering.hpp"

namespace tarewell::desk {

/// The sizes of a registration's covers that came later: they go into its covers, one after another, further covers are
/// added, and bundles that claimed the usual weight share what the covers claim. `registration` is an id. All of it
/// is one deed. Throws records::refused.
answer sizes_told(ledger::ledger_file& file, const std::string& registration, const std::vector<cover_told>& covers,
                  const std::string& why, const ledger::surroundings& around);

} // namespace tarewell::desk
