#pragma once
#include "figures/table.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace tarewell::render {

enum class name_kind { text, markup, yes_no, group, list };
std::string_view name_of(name_kind kind);

/// A name that a form may use, and what stands inside it. Text may be missing: then it prints
/// nothing and its section is left out. Every list NAME has a yes-or-no any_NAME beside it.
struct form_name {
    std::string name;
    name_kind kind = name_kind::text;
    std::string meaning;
    std::vector<form_name> inside;

    [[nodiscard]] const form_name* find(std::string_view inner) const;
    /// "chart.tons.svg" from here on; none when a part of it is not known.
    [[nodiscard]] const form_name* resolve(std::string_view path) const;
};

/// Everything that a form may name. Made from one table, the list of figures and the evidence
/// tables' own columns, so that none is missing here.
const form_name& all_form_names();

using figures::form_word;

/// One line a name, "kind  path  meaning", for README and `tarewell report names`.
struct named_line {
    std::string path;
    name_kind kind;
    std::string meaning;
};
/// Figures are given once, as figure.NAME.value and so on.
std::vector<named_line> form_name_lines();

} // namespace tarewell::render
