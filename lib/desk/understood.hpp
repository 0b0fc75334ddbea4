#pragma once
#include "ledger/ledger.hpp"
#include "reconcile/reckoning.hpp"

namespace tarewell::desk {

/// What a row in force says, as a sentence: "T0060: bale B044 from S03, 8 bundles of 5 growers, net 362 lb, 0.92 of the
/// estimate". Kinds without a sentence of their own list what is given.
std::string understood(const records::season& season, const reconcile::reckoning& reckoned,
                       const ledger::stored_row& stored);

} // namespace tarewell::desk
