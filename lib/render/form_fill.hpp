#pragma once
#include "desk/answer.hpp"
#include "desk/season_view.hpp"

namespace tarewell::render {

/// An agency's own form as its .xlsx or .xlsm file, to be filled in.
struct fill_request {
    std::string form, file; ///< the form, which stays as it is, and where the filled one is written
    std::string map = {};   ///< a file that says which figure a cell or a name of the form's is for; or empty
};

/// Writes a copy of the form with a quarter's figures in the cells that have their names, or that the map says. All
/// other parts of the file stay byte for byte. Answers with what went where, which names of the form are no figures,
/// what has no value, and what of the file no longer holds. Throws form_refused with every fault of form or map, and
/// records::io_error; nothing is written then.
desk::answer fill_form(const fill_request& how, const desk::quarter_seen& shown);

} // namespace tarewell::render
