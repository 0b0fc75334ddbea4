#pragma once
#include "context.hpp"
#include "intake/intake.hpp"

namespace tarewell::cli {

/// A record as it was typed.
struct record_how {
    intake::named_values given = {};
    std::vector<std::string> key = {};
    std::string reason = {}, once = {};
    bool yes = false; ///< don't ask, though it blocks a closing
};

/// Writes it, says what it was understood as and what it raises; where a person sits at a terminal, what blocks a
/// closing is asked about first. False when the person held it back. Throws records::refused.
bool write_and_tell(const record_how& how, records::kind which, const char* verb, context& with,
                    ledger::ledger_file& file,
                    const std::function<intake::change_summary(const intake::agreement&)>& write);

/// The same for a new record.
bool record_and_tell(const record_how& how, const records::kind_info& kind, context& with, ledger::ledger_file& file);

} // namespace tarewell::cli
