#pragma once
#include "quantity/decimal.hpp"

#include <cstdint>
#include <span>
#include <vector>

namespace tarewell::estimate {

/// `total` shared out in whole units by `parts` (largest remainder; ties to the first). The shares
/// sum to `total` exactly. total >= 0; parts >= 0. When all parts are 0 the units are shared
/// equally, the odd ones to the first. Empty parts give no shares.
std::vector<std::int64_t> shared_out(std::int64_t total, std::span<const std::int64_t> parts);

/// The same many times over in the same memory.
class sharer {
  public:
    /// Good until the next call; `parts` may not be what the last one returned.
    const std::vector<std::int64_t>& share(std::int64_t total, std::span<const std::int64_t> parts);

  private:
    std::vector<std::int64_t> shares_, equal_;
    std::vector<quantity::wide> remainders_;
    std::vector<std::size_t> order_;
};

} // namespace tarewell::estimate
