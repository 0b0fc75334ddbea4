#pragma once
#include "desk/value.hpp"
#include "render/layout.hpp"
#include "render/page.hpp"

namespace tarewell::render {

/// What a layout's workbook holds: {"title","quarter","from","to","as_of","closed","figures":[...],"sheets":[{"name",
/// "kind","title","lines":[{"label","text"}],"columns":[{"name","heading"}],"rows":[{NAME: value}],"total":{}}]}.
/// Counts and ratios are numbers, weights and money decimal strings, dates texts.
desk::value layout_json(const layout& of, const page_input& input);

} // namespace tarewell::render
