#pragma once
#include "records/errors.hpp"

#include <functional>
#include <optional>
#include <set>
#include <string>
#include <vector>

namespace tarewell::render {

/// A template's text and the name by which messages call it.
struct form_text {
    std::string file; ///< its path, or "NAME.mustache (built in)"
    std::string text;
};
/// Finds the template that a tag {{> name}} brings in.
using find_part = std::function<std::optional<form_text>(const std::string& name)>;

struct form_check {
    std::vector<std::string> faults; ///< "FILE:LINE:NAME: what; what would be right", in order
    std::set<std::string> used;      ///< the outermost names that the form uses, as "chart", "bales"
    std::set<std::string> parts;     ///< the parts that it brings in, directly or through others
};

/// Reads a Mustache template and the parts that it brings in, and holds every name against
/// all_form_names(). Faults: a name that is not there where it stands, a tag or section that is not
/// closed, a section closed under another name or never opened, a part that cannot be found, raw
/// text
/// ({{{ }}}) of a name that is no markup, a changed delimiter.
form_check check_form(const form_text& form, const find_part& parts);

} // namespace tarewell::render
