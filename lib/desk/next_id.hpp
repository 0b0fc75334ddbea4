#pragma once
#include "ledger/ledger.hpp"

#include <string>
#include <vector>

namespace tarewell::desk {

/// The id that follows in the pattern most of these have: letters, then a number that grows, with zeros in front as
/// they have them: after R001 and R143 comes R144. `first` where none has such a pattern.
std::string id_after(const std::vector<std::string>& ids, const std::string& first);

/// The same for a kind's records, never one that was in use before and is void. A cover's id is its registration's.
std::string next_id(const ledger::ledger_file& file, records::kind which, const std::string& first);

/// Bundles' ids of a new registration: "R144-1" and so on where the ledger's are so, or it has none; else its own
/// pattern goes on.
std::vector<std::string> next_bundle_ids(const ledger::ledger_file& file, const std::string& registration,
                                         std::size_t count);

} // namespace tarewell::desk
