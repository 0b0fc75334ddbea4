#include "estimate/plan.hpp"

#include "estimate/share.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>

namespace tarewell::estimate {

std::vector<quantity::weight> bundle_plan(quantity::weight whole, const bundle_sizes& sizes) {
    if (sizes.aim.count() <= 0 || sizes.aim > sizes.maximum)
        throw std::invalid_argument("a bundle's aim is above 0 and at most its maximum");
    const auto nearest = quantity::half_up(whole.count(), sizes.aim.count());
    const auto fewest = (whole.count() + sizes.maximum.count() - 1) / sizes.maximum.count();
    const auto bundles = std::max<std::int64_t>({nearest, fewest, 1});
    constexpr std::int64_t most = 1'000'000;
    if (bundles > most) throw std::invalid_argument("more than a million bundles: check the sizes");
    const std::vector<std::int64_t> equal(static_cast<std::size_t>(bundles), 1);
    std::vector<quantity::weight> plan;
    for (const auto part : shared_out(whole.count(), equal))
        plan.emplace_back(part);
    return plan;
}

std::string label_text(const std::string& name, std::size_t number, std::size_t of) {
    return fmt::format("{}, {} of {}", name, number, of);
}

} // namespace tarewell::estimate
