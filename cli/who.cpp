#include "who.hpp"

namespace tarewell::cli {

ledger::surroundings writing(const context& with) {
    ledger::surroundings around = with.around;
    for (const auto& name :
         {with.who, with.environment("TAREWELL_WHO"), with.environment("USER"), with.environment("LOGNAME")})
        if (around.who.empty()) around.who = name;
    if (around.who.empty()) around.who = "not given";
    return around;
}

} // namespace tarewell::cli
