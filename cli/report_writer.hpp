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
    bool csv = false;   ///< a folder of CSV files
    bool quiet = false; ///< say nothing when it is written
    std::string site = {}, grower = {}, templates = {};
};

/// The workbook of `tarewell quarter workbook`.
constexpr const char* summary_form = "quarter_summary.layout.toml";

/// Fills in a page or a workbook and writes it whole; faults of the form go to err, and nothing is written.
void write_form(const form_request& request, context& with);

} // namespace tarewell::cli
