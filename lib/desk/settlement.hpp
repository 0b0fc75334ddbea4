#pragma once
#include "desk/answer.hpp"
#include "desk/season_view.hpp"

namespace tarewell::desk {

/// A shipment's whole paper: its bales by our scale, what the processor received, rejected and accepted, price or
/// charge, what was made of it, and what does not tie. `found` where it raises a flag that is no note. Throws
/// records::input_error for a shipment that is not there.
answer settlement_told(const season_view& seen, const std::string& shipment);

/// Every shipment with where its settlement stands.
answer settlements_listed(const season_view& seen);

/// What each processor received, rejected and accepted of what was shipped to it, and paid or charged for it, by the
/// quarter of the shipment.
answer processors_told(const season_view& seen);

} // namespace tarewell::desk
