#include "estimate/share.hpp"

#include "quantity/decimal.hpp"

#include <algorithm>
#include <limits>
#include <numeric>
#include <tuple>

namespace tarewell::estimate {
namespace {

using quantity::wide;

/// total x part / sum, as its whole and what remains of it. Most products stay in 64 bits, where dividing is quick.
std::pair<std::int64_t, wide> divided(std::int64_t total, std::int64_t part, wide sum) {
    const wide exact = wide{total} * part;
    constexpr wide most = std::numeric_limits<std::int64_t>::max();
    if (exact >= 0 && exact <= most && sum <= most) {
        const auto top = static_cast<std::int64_t>(exact), bottom = static_cast<std::int64_t>(sum);
        return {top / bottom, top % bottom};
    }
    return {static_cast<std::int64_t>(exact / sum), exact % sum};
}

} // namespace

std::vector<std::int64_t> shared_out(std::int64_t total, std::span<const std::int64_t> parts) {
    sharer one;
    return one.share(total, parts);
}

const std::vector<std::int64_t>& sharer::share(std::int64_t total, std::span<const std::int64_t> parts) {
    wide sum = std::accumulate(parts.begin(), parts.end(), wide{0});
    if (sum == 0) {
        equal_.assign(parts.size(), 1);
        parts = equal_;
        sum = static_cast<std::int64_t>(parts.size());
    }
    shares_.resize(parts.size());
    remainders_.resize(parts.size());
    std::int64_t given = 0;
    for (std::size_t i = 0; i < parts.size(); ++i) {
        std::tie(shares_[i], remainders_[i]) = divided(total, parts[i], sum);
        given += shares_[i];
    }
    if (given == total || parts.empty()) return shares_;
    order_.resize(parts.size());
    std::iota(order_.begin(), order_.end(), std::size_t{0});
    std::sort(order_.begin(), order_.end(), [&](std::size_t a, std::size_t b) {
        return std::tuple{remainders_[b], a} < std::tuple{remainders_[a], b};
    });
    for (std::size_t i = 0; given < total; ++i, ++given)
        ++shares_[order_[i]];
    return shares_;
}

} // namespace tarewell::estimate
