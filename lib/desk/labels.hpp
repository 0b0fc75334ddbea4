#pragma once
#include "records/kinds.hpp"

#include <string>

namespace tarewell::desk {

/// What a form calls a column: "Bill of lading", "Length, ft".
std::string label_of(const records::kind_info& kind, const records::column& column);
/// What to write there, where the label alone does not say: "decimal point, no thousands comma". Empty for none.
std::string hint_of(const records::kind_info& kind, const records::column& column);
/// What a form calls a kind: "Scale ticket", "Receipt".
std::string label_of(const records::kind_info& kind);
/// One of its records in a sentence: "a scale ticket", "a bundle in a bale".
std::string one_of(const records::kind_info& kind);

} // namespace tarewell::desk
