#pragma once
#include "context.hpp"

namespace tarewell::cli {

/// The subcommands of `audit`, one source each; each adds itself to the `audit` command.
void add_audit_growers(CLI::App& audit, context& with);
void add_audit_letter(CLI::App& audit, context& with);
void add_audit_sites(CLI::App& audit, context& with);
void add_audit_constants(CLI::App& audit, context& with);
void add_audit_bales(CLI::App& audit, context& with);
void add_audit_scales(CLI::App& audit, context& with);
void add_audit_total(CLI::App& audit, context& with);
void add_audit_next(CLI::App& audit, context& with);
void add_audit_sample(CLI::App& audit, context& with);
void add_audit_page(CLI::App& audit, context& with);

} // namespace tarewell::cli
