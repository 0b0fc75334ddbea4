#pragma once
#include "desk/value.hpp"
#include "render/page.hpp"

namespace tarewell::render {

/// The data of a form by its outermost names (form_names.hpp), those given in `wanted` alone; all
/// when it is empty. Missing text is null. The same input gives the same data.
desk::value page_data(const page_input& input, const std::set<std::string>& wanted);

} // namespace tarewell::render
