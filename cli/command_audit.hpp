#pragma once
#include "context.hpp"

namespace tarewell::cli {

/// The subcommands of `audit`, one source each; each adds itself to the `audit` command.
void add_audit_growers(CLI::App& audit, context& with);
void add_audit_letter(CLI::App& audit, context& with);

} // namespace tarewell::cli
