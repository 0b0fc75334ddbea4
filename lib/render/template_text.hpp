#pragma once
#include "desk/value.hpp"
#include "quantity/period.hpp"

#include <string>
#include <utility>
#include <vector>

namespace tarewell::render {

/// A form's own text said of the period: outside of its tags "in the quarter" becomes "in the year".
std::string said_outside_tags(const quantity::period& of, std::string_view text);

/// A template's text after the comment that it begins with.
std::string after_comment(const std::string& text);

/// A mustache template with its data in place: texts are escaped for HTML, numbers written as JSON has them, and what
/// is null counts as missing, so that its section is left out. `parts`: the templates that it names by {{> name}}.
/// Throws records::input_error, with `name` in the message, for a template that is none.
std::string fill_template(const std::string& name, const std::string& text, const desk::value& with,
                          const std::vector<std::pair<std::string, std::string>>& parts);

} // namespace tarewell::render
