#include "command_audit.hpp"

namespace tarewell::cli {

void add_audit(const command& program, context& with) {
    auto sub = program.add("audit", "what the scale says of growers, sites, constants, bales and what is on hand");
    sub.wants_subcommand();
    for (const auto add : {add_audit_growers, add_audit_letter, add_audit_sites, add_audit_constants, add_audit_bales,
                           add_audit_scales, add_audit_total, add_audit_next, add_audit_sample, add_audit_page})
        add(sub, with);
}

} // namespace tarewell::cli
