#pragma once
#include "context.hpp"

#include <optional>
#include <string>

namespace tarewell::cli {

struct form_request {
    std::string form, quarter, file;
    std::optional<ledger::entry_no> as_of = {};
    bool with_names = false;
    bool json = false;
    bool quiet = false; ///< say nothing when it is written
    std::string site = {}, grower = {}, templates = {};
};

/// Fills in a form and writes it whole; faults of the form go to err, and nothing is written.
void write_form(const form_request& request, context& with);

} // namespace tarewell::cli
