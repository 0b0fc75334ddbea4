#include "estimate/share.hpp"

#include <catch2/catch.hpp>

#include <limits>
#include <numeric>
#include <random>

using tarewell::estimate::shared_out;
using numbers = std::vector<std::int64_t>;

TEST_CASE("the largest remainders get the odd units") {
    CHECK(shared_out(10, numbers{1, 1, 1}) == numbers{4, 3, 3});     // a tie: the first
    CHECK(shared_out(100, numbers{1, 2, 4}) == numbers{14, 29, 57}); // computed: 14.29, 28.57, 57.14
    CHECK(shared_out(7, numbers{3, 3, 1}) == numbers{3, 3, 1});
    CHECK(shared_out(2, numbers{1, 1, 1, 1}) == numbers{1, 1, 0, 0});
    CHECK(shared_out(5, numbers{1, 3, 1}) == numbers{1, 3, 1});
    CHECK(shared_out(1, numbers{1, 5}) == numbers{0, 1}); // computed: 0.17, 0.83: the larger remainder, not the first
}

TEST_CASE("a part of nothing gets nothing while others have something") {
    CHECK(shared_out(11, numbers{0, 1, 0, 1}) == numbers{0, 6, 0, 5});
}

TEST_CASE("parts that are all nothing share equally, and no parts share nothing") {
    CHECK(shared_out(5, numbers{0, 0, 0}) == numbers{2, 2, 1});
    CHECK(shared_out(5, numbers{}).empty());
    CHECK(shared_out(0, numbers{3, 4}) == numbers{0, 0});
}

TEST_CASE("shares of the largest weights do not overflow") {
    constexpr auto most = std::numeric_limits<std::int64_t>::max();
    CHECK(shared_out(most, numbers{most, most}) == numbers{most / 2 + 1, most / 2});
}

TEST_CASE("shares sum to the whole, and none is a unit away from its exact part") {
    std::mt19937_64 dice{20260514};
    std::uniform_int_distribution<std::int64_t> total{0, 2'000'000}, part{0, 60'000};
    std::uniform_int_distribution<std::size_t> count{1, 40};
    int wrong = 0;
    for (int i = 0; i < 3'000; ++i) {
        numbers parts(count(dice));
        for (auto& each : parts)
            each = part(dice);
        const auto sum = std::accumulate(parts.begin(), parts.end(), std::int64_t{0});
        const auto whole = total(dice);
        const auto shares = shared_out(whole, parts);
        bool good = std::accumulate(shares.begin(), shares.end(), std::int64_t{0}) == whole;
        for (std::size_t k = 0; k < parts.size() && sum > 0; ++k)
            good = good && std::abs(shares[k] * sum - whole * parts[k]) < sum;
        if (!good) ++wrong;
    }
    CHECK(wrong == 0);
}
