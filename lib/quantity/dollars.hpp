#pragma once
#include "quantity/money.hpp"

namespace tarewell::quantity {

/// "$1250.00", for a sentence.
inline std::string dollars(money amount) { return "$" + text_of(amount); }

} // namespace tarewell::quantity
