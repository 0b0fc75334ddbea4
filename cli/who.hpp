#pragma once
#include "context.hpp"

namespace tarewell::cli {

/// The surroundings for a command that writes: who it is comes from --who, TAREWELL_WHO, or the
/// login name.
ledger::surroundings writing(const context& with);

} // namespace tarewell::cli
