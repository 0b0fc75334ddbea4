#pragma once
#include "render/page.hpp"

#include <nlohmann/json_fwd.hpp>

namespace tarewell::render {

/// The data of a form by its outermost names (form_names.hpp), those given in `wanted` alone; all
/// when it is empty. Missing text is null. The same input gives the same data.
nlohmann::ordered_json page_data(const page_input& input, const std::set<std::string>& wanted);

} // namespace tarewell::render
