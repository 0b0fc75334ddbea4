#pragma once
#include "quantity/decimal.hpp"

namespace tarewell::records {

/// A number as a whole count of 10^-9, exactly: it has at most 9 decimals.
inline quantity::wide billionths(const quantity::decimal& of) {
    return quantity::wide{of.mantissa} * quantity::power_of_ten(9 - of.scale);
}

} // namespace tarewell::records
