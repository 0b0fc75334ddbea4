#pragma once
#include "records/complaints.hpp"
#include "records/errors.hpp"

namespace tarewell::intake {

using records::complaint;

/// Checks each value of a row against its column's type: what the value alone can tell.
/// Returns true when nothing was complained of.
bool check_format(const records::row& values, const complaint& complain);

/// Complains of values whose text no ledger should hold: bytes that are no UTF-8, control characters.
bool check_text(const records::row& values, const complaint& complain);

} // namespace tarewell::intake
