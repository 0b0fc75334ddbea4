#include "estimate/share.hpp"

#include "quantity/decimal.hpp"

#include <algorithm>
#include <numeric>

namespace tarewell::estimate {

std::vector<std::int64_t> shared_out(std::int64_t total, std::span<const std::int64_t> parts) {
    using quantity::wide;
    const wide sum = std::accumulate(parts.begin(), parts.end(), wide{0});
    if (sum == 0) {
        const std::vector<std::int64_t> equal(parts.size(), 1);
        return parts.empty() ? std::vector<std::int64_t>{} : shared_out(total, equal);
    }
    std::vector<std::int64_t> shares(parts.size());
    std::vector<wide> remainders(parts.size());
    std::int64_t given = 0;
    for (std::size_t i = 0; i < parts.size(); ++i) {
        const wide exact = wide{total} * parts[i];
        shares[i] = static_cast<std::int64_t>(exact / sum);
        remainders[i] = exact % sum;
        given += shares[i];
    }
    std::vector<std::size_t> order(parts.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return remainders[a] > remainders[b]; });
    for (std::size_t i = 0; given < total; ++i, ++given)
        ++shares[order[i]];
    return shares;
}

} // namespace tarewell::estimate
