#pragma once
#include "render/layout.hpp"
#include "render/page.hpp"

#include <nlohmann/json_fwd.hpp>

namespace tarewell::render {

/// What a layout's workbook holds: {"title","quarter","from","to","as_of","closed","figures":[...],"sheets":[{"name",
/// "kind","title","lines":[{"label","text"}],"columns":[{"name","heading"}],"rows":[{NAME: value}],"total":{}}]}.
/// Counts and ratios are numbers, weights and money decimal strings, dates texts.
nlohmann::ordered_json layout_json(const layout& of, const page_input& input);

} // namespace tarewell::render
