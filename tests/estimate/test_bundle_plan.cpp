#include "estimate/plan.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <numeric>
#include <random>
#include <stdexcept>

using namespace tarewell;
using estimate::bundle_plan;
using estimate::bundle_sizes;
using quantity::weight;

namespace {
// common practice, no source: a bundle weighs about 50 lb, to 60 lb.
const bundle_sizes usual{weight{50'000}, weight{60'000}};

bool sums_to(const std::vector<weight>& plan, weight whole) {
    return std::accumulate(plan.begin(), plan.end(), weight{}) == whole;
}
} // namespace

TEST_CASE("172.8 lb are planned as three bundles") {
    // computed: 96 x 30 ft, one layer; at 60 lb at most.
    const auto plan = bundle_plan(weight{172'800}, usual);
    CHECK(plan == std::vector<weight>(3, weight{57'600}));
}

TEST_CASE("what does not divide leaves its odd thousandths to the first bundles") {
    CHECK(bundle_plan(weight{100'001}, usual) == std::vector<weight>{weight{50'001}, weight{50'000}});
}

TEST_CASE("a full maximum is one bundle and a thousandth more is two") {
    CHECK(bundle_plan(weight{60'000}, usual).size() == 1);
    CHECK(bundle_plan(weight{60'001}, usual).size() == 2);
    CHECK(bundle_plan(weight{75'000}, usual).size() == 2);
    CHECK(bundle_plan(weight{1}, usual) == std::vector<weight>{weight{1}});
}

TEST_CASE("a bundle plan's pieces sum to the whole, are even, and none is over the maximum") {
    std::mt19937_64 dice{20260514};
    std::uniform_int_distribution<std::int64_t> whole{1, 20'000'000}, aim{1'000, 90'000}, more{0, 60'000};
    int wrong = 0;
    for (int i = 0; i < 3'000; ++i) {
        const auto aimed = aim(dice);
        const bundle_sizes sizes{weight{aimed}, weight{aimed + more(dice)}};
        const weight all{whole(dice)};
        const auto plan = bundle_plan(all, sizes);
        const auto [least, most] = std::minmax_element(plan.begin(), plan.end());
        const bool good =
            sums_to(plan, all) && *most <= sizes.maximum && *least > weight{0} && *most - *least <= weight{1};
        // One bundle fewer is over the maximum, or no nearer to whole / aim.
        const auto count = static_cast<std::int64_t>(plan.size());
        const bool fewer_is_over = count == 1 || all.count() > (count - 1) * sizes.maximum.count();
        const bool nearest = std::abs(2 * (all.count() - count * aimed)) <= aimed || count == 1;
        if (!good || !(fewer_is_over || nearest)) ++wrong;
    }
    CHECK(wrong == 0);
}

TEST_CASE("a plan without a sensible aim is refused") {
    const weight whole{100'000};
    CHECK_THROWS_AS(bundle_plan(whole, {weight{0}, weight{60'000}}), std::invalid_argument);
    CHECK_THROWS_AS(bundle_plan(whole, {weight{-1}, weight{60'000}}), std::invalid_argument);
    CHECK_THROWS_AS(bundle_plan(whole, {weight{61'000}, weight{60'000}}), std::invalid_argument);
    CHECK_THROWS_AS(bundle_plan(weight{2'000'001}, {weight{1}, weight{1}}), std::invalid_argument);
}

TEST_CASE("a bundle's label says the grower's name and its number of how many") {
    // common practice, no source: grower's name, "2 of 5".
    CHECK(estimate::label_text("Ruth Ames", 2, 5) == "Ruth Ames, 2 of 5");
    CHECK(estimate::label_text("{}, 100 %", 1, 1) == "{}, 100 %, 1 of 1"); // a name is never a format
}
