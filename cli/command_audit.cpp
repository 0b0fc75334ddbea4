#include "command_audit.hpp"

namespace tarewell::cli {

void add_audit(CLI::App& program, context& with) {
    auto* sub = program.add_subcommand("audit", "what the scale says of growers, sites, constants, bales and what is on hand");
    sub->require_subcommand(1);
    add_audit_growers(*sub, with);
}

} // namespace tarewell::cli
