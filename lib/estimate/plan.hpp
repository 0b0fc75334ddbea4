#pragma once
#include "quantity/weight.hpp"

#include <string>
#include <vector>

namespace tarewell::estimate {

/// Bundles are folded to a pallet; about 50 lb, to 60 lb (common practice, no source).
struct bundle_sizes {
    quantity::weight aim;
    quantity::weight maximum;
};

/// How a claimed weight is cut: as many bundles as come nearest to the aim with none over the
/// maximum. The pieces sum to the whole. Throws std::invalid_argument unless 0 < aim <= maximum.
std::vector<quantity::weight> bundle_plan(quantity::weight whole, const bundle_sizes& sizes);

/// "Ruth Ames, 2 of 5"
std::string label_text(const std::string& name, std::size_t number, std::size_t of);

} // namespace tarewell::estimate
