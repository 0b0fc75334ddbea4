#pragma once
#include "context.hpp"
#include "desk/look_up.hpp"

namespace tarewell::cli {

/// Says on err what was found by a name in the place of its id.
void tell_found(const desk::look_up& names, const context& with);

/// The id of one record that is named by its id or otherwise. Throws records::input_error where none or several are
/// meant.
std::string id_meant(const ledger::ledger_file& file, records::kind which, const std::string& said,
                     const context& with);

} // namespace tarewell::cli
