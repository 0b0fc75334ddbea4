#pragma once
#include "context.hpp"
#include "render/form_writer.hpp"

namespace tarewell::cli {

struct quarter_form : render::form_request {
    std::string quarter;
    std::optional<records::entry_no> as_of;
};

/// `--rows`, for a workbook.
void add_rows(const command& sub, quarter_form& request);

/// Fills in the form, writes it and says so.
void write_form(quarter_form how, context& with);

} // namespace tarewell::cli
