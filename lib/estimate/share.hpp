#pragma once
#include <cstdint>
#include <span>
#include <vector>

namespace tarewell::estimate {

/// `total` shared out in whole units by `parts` (largest remainder; ties to the first). The shares
/// sum to `total` exactly. total >= 0; parts >= 0. When all parts are 0 the units are shared
/// equally, the odd ones to the first. Empty parts give no shares.
std::vector<std::int64_t> shared_out(std::int64_t total, std::span<const std::int64_t> parts);

} // namespace tarewell::estimate
