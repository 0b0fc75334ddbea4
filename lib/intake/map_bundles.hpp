#pragma once
#include "intake/mapped.hpp"

#include <optional>

namespace tarewell::intake {

/// How many bundles the covers that a row made are cut into, in the terms of the ledger (bundle_aim_lb,
/// bundle_maximum_lb), where nobody knows how many. None where no cover has its sizes, or the ledger has no award.
std::optional<std::size_t> bundles_planned(const ledger::ledger_file& in, const std::vector<mapped_record>& made);

} // namespace tarewell::intake
