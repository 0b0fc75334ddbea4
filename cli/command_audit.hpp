#pragma once
#include "context.hpp"

namespace tarewell::cli {

/// The subcommands of `audit`, one source each; each adds itself to the `audit` command.
void add_audit_growers(const command& audit, context& with);
void add_audit_letter(const command& audit, context& with);
void add_audit_sites(const command& audit, context& with);
void add_audit_constants(const command& audit, context& with);
void add_audit_bales(const command& audit, context& with);
void add_audit_scales(const command& audit, context& with);
void add_audit_total(const command& audit, context& with);
void add_audit_next(const command& audit, context& with);
void add_audit_sample(const command& audit, context& with);
void add_audit_page(const command& audit, context& with);

} // namespace tarewell::cli
