#pragma once
#include "ledger/errors.hpp"
#include "ledger/kinds.hpp"

#include <functional>

namespace tarewell::intake {

/// Takes (column name, what is wrong, what would be right).
using complaint = std::function<void(std::string_view column, std::string what, std::string right)>;

/// Checks each value of a row against its column's type: what the value alone can tell.
/// Returns true when nothing was complained of.
bool check_format(const ledger::row& values, const complaint& complain);

/// Complains of values whose text no ledger should hold: bytes that are no UTF-8, control characters.
bool check_text(const ledger::row& values, const complaint& complain);

} // namespace tarewell::intake
