#pragma once
#include "figures/figure.hpp"

#include <nlohmann/json_fwd.hpp>

#include <string>

namespace tarewell::render {

/// A figure's value in JSON: counts and reals as numbers, weights and money as decimal strings,
/// null where it is undefined.
nlohmann::ordered_json json_of(const figures::value& value);

/// {"quarter","from","to","as_of","closed","figures":[{"name","value","unit","evidence"}]}; an undefined
/// figure carries its "reason". Ends with a line end.
std::string json_text(const figures::report& report);

} // namespace tarewell::render
