#include "audit/random.hpp"

#include <cmath>
#include <numeric>
#include <stdexcept>

namespace tarewell::audit {

std::uint64_t seeded_random::below(std::uint64_t count) {
    if (count == 0) {
        throw std::invalid_argument("a random number below 0 does not exist");
    }
    const std::uint64_t unfair = (0 - count) % count;
    std::uint64_t drawn = bits();
    while (drawn < unfair) {
        drawn = bits();
    }
    return drawn % count;
}

double seeded_random::normal() {
    if (has_spare_) {
        has_spare_ = false;
        return spare_;
    }
    double x = 0.0;
    double y = 0.0;
    double square = 0.0;
    do {
        x = 2.0 * uniform() - 1.0;
        y = 2.0 * uniform() - 1.0;
        square = x * x + y * y;
    } while (square >= 1.0 || square == 0.0);
    const double scale = std::sqrt(-2.0 * std::log(square) / square);
    spare_ = y * scale;
    has_spare_ = true;
    return x * scale;
}

std::vector<int> simple_random_sample(int population, int count, std::uint64_t seed) {
    if (population < 0 || count < 0 || count > population) {
        throw std::invalid_argument("a sample holds between none and all of the population");
    }
    std::vector<int> items(static_cast<std::size_t>(population));
    std::iota(items.begin(), items.end(), 0);
    seeded_random random(seed);
    for (std::size_t k = 0; k < static_cast<std::size_t>(count); ++k) {
        std::swap(items[k], items[k + random.below(items.size() - k)]);
    }
    items.resize(static_cast<std::size_t>(count));
    return items;
}

} // namespace tarewell::audit
