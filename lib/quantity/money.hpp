#pragma once
#include "quantity/decimal.hpp"
#include "quantity/strong.hpp"

namespace tarewell::quantity {

/// Cents: what is shown is what is summed.
using money = whole<struct cents>;

/// Exact: `value` has at most two decimals (checked before). Throws std::invalid_argument.
money money_from(const decimal& value);

/// quantity x rate rounded half up to the cent once.
money money_from_rate(const decimal& quantity, const decimal& rate);

/// percent of an amount, rounded half up to the cent.
money percent_of(money base, const decimal& percent);

/// "-12.50"
std::string text_of(money value);

} // namespace tarewell::quantity
