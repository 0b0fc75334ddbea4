#pragma once
#include "desk/value.hpp"
#include "render/forms.hpp"

#include <string>
#include <utility>
#include <vector>

namespace tarewell::render {

/// The look of a printed sheet and the parts that it may bring in.
struct paper_template {
    form_text form;
    std::vector<std::pair<std::string, std::string>> parts;
};

/// paper_NAME.mustache and every paper_part_..., the folder's before the built-in ones; an empty folder stands for
/// none. Throws form_refused for a name, in a file of the folder, that is neither in `data` nor in a built-in file:
/// with its line and the nearest name. Throws records::io_error.
paper_template paper_template_for(const std::string& name, const std::string& folder, const desk::value& data);

} // namespace tarewell::render
