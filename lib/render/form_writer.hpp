#pragma once
#include "desk/season_view.hpp"
#include "render/forms.hpp"

namespace tarewell::render {

/// The workbook that a quarter has without asking for a form.
constexpr const char* summary_form = "quarter_summary.layout.toml";

/// A form filled in for a quarter and written to a file, or a folder of CSV files.
struct form_request {
    std::string form, file;
    bool with_names = false;
    bool json = false, csv = false; ///< for machines: not both
    std::string site = {}, grower = {};
    int rows = 0; ///< of a table on one sheet of a workbook; 0: as many as a sheet holds
    std::string templates = {}; ///< the user's folder of forms, or empty
};

/// Faults of a form: nothing was written.
struct form_refused : records::refused {
    using records::refused::refused;
};

/// What a form is filled with. Throws records::input_error for a site or grower that is not there.
page_input input_of(const form_request& how, const desk::quarter_seen& shown);

/// Fills in a page or a workbook and writes it whole. Throws form_refused; records::input_error for a form, site or
/// grower that is not there; records::io_error.
void write_form(const form_request& how, const desk::quarter_seen& shown);

} // namespace tarewell::render
