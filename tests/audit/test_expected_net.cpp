#include <catch2/catch.hpp>

#include <cmath>

#include "audit/expected_net.hpp"
#include "audit/slip_cases.hpp"

using namespace tarewell::audit;

namespace {

// One grower, one site, one class; bales of one bundle of 100 with these nets.
pooled_season one_grower(const std::vector<double>& nets) {
    pooled_season season{1, 1, 1, {}, {}};
    for (std::size_t k = 0; k < nets.size(); ++k) {
        season.bales.push_back({nets[k], 1.0});
        season.bundles.push_back({static_cast<int>(k), 0, 0, 0, 100.0});
    }
    return season;
}

} // namespace

TEST_CASE("A ticket's net is judged by the tickets before it", "[expected_net]") {
    const auto season = one_grower({95, 98, 101, 99, 97, 103, 96, 100, 102, 98});
    const std::vector<pooled_bundle> bale{{-1, 0, 0, 0, 100.0}};
    const auto right = judge_net(season, bale, 99);
    CHECK(right.verdict == net_verdict::fits);
    CHECK(right.tickets == 10);
    CHECK(right.expected == Approx(98.9).margin(0.2)); // the nets' mean
    CHECK(std::abs(right.z) < 0.2);
    CHECK(right.low < 95.0);
    CHECK(right.high > 103.0);
    CHECK(judge_net(season, bale, 80).verdict != net_verdict::fits);
    CHECK(judge_net(season, bale, 80).z < -3.0);
    const auto tenfold = judge_net(season, bale, 990);
    CHECK(tenfold.verdict == net_verdict::blocks);
    CHECK(tenfold.z > 4.0);
    CHECK(judge_net(season, bale, 39).verdict == net_verdict::blocks);
}

TEST_CASE("Few tickets say nothing, but a net far from its claim is stopped all the same", "[expected_net]") {
    const auto season = one_grower({95, 98, 101, 99});
    const std::vector<pooled_bundle> bale{{-1, 0, 0, 0, 100.0}};
    CHECK(judge_net(season, bale, 150).verdict == net_verdict::fits);
    CHECK(judge_net(season, bale, 150).tickets == 0);
    CHECK(judge_net(season, bale, 161).verdict == net_verdict::blocks);
    net_limits wide;
    wide.most_of_claim = 2.0;
    CHECK(judge_net(season, bale, 161, wide).verdict == net_verdict::fits);
    CHECK(judge_net({0, 0, 1, {}, {}}, {}, 100).verdict == net_verdict::blocks); // no claim
}

TEST_CASE("A left-out ticket is predicted like Student's t with the others' mean", "[expected_net]") {
    // With one bundle of one grower a bale, V is I plus a constant that the mean takes up, so every point of the grid
    // gives t with n - 1 degrees: z of the 2.5 % point is 1.96. By hand: mean 100, s^2 = 10, t(5) 2.570582, times
    // sqrt(1 + 1/6).
    const auto season = one_grower({96, 104, 97, 103, 100, 100});
    const double reach = 2.570582 * std::sqrt(10.0) * std::sqrt(1.0 + 1.0 / 6.0);
    const auto judged = judge_net(season, {{-1, 0, 0, 0, 100.0}}, 100.0 + reach);
    CHECK(judged.z == Approx(1.959964).margin(1e-4));
    CHECK(judged.high == Approx(100.0 + reach).margin(1e-3));
}

TEST_CASE("A new grower, at a new site, is judged by the others", "[expected_net]") {
    const auto given = tarewell::tests::read_slip_case("b").season.weighed;
    std::vector<pooled_bundle> bale;
    for (int k = 0; k < 8; ++k) {
        bale.push_back({-1, given.growers, given.sites, 0, 43.2});
    }
    const auto judged = judge_net(given, bale, 300.0);
    CHECK(judged.tickets == static_cast<int>(given.bales.size()));
    CHECK(judged.verdict == net_verdict::fits);
    CHECK(judged.low < judged.expected);
    CHECK(judged.high > judged.expected);
    net_limits few;
    few.most_neighbours = 12;
    CHECK(judge_net(given, bale, 300.0, few).tickets == 12);
    bale[0].basis = given.bases;
    CHECK_THROWS_AS(judge_net(given, bale, 300.0), std::invalid_argument);
}

TEST_CASE("Each ticket of a season is judged as if it came after all others", "[expected_net]") {
    const auto season = one_grower({95, 98, 101, 99, 97, 103, 96, 100, 102, 98});
    const auto judged = judge_each_net(season);
    REQUIRE(judged.size() == 10);
    for (std::size_t k = 0; k < judged.size(); ++k) {
        auto others = season;
        others.bales[k].net = -1.0; // left out
        const auto alone = judge_net(others, {{-1, 0, 0, 0, 100.0}}, season.bales[k].net);
        CHECK(judged[k].z == Approx(alone.z).margin(1e-3));
        CHECK(judged[k].tickets == 9);
        CHECK(judged[k].verdict == net_verdict::fits);
    }
}

TEST_CASE("A mistyped ticket does not hide another one", "[expected_net]") {
    const auto judged = judge_each_net(one_grower({95, 98, 101, 99, 97, 103, 96, 1000, 102, 98, 140, 99, 97}));
    CHECK(judged[7].verdict == net_verdict::blocks);  // ten times its claim
    CHECK(judged[10].verdict == net_verdict::blocks); // within .4 to 1.6 of it, and far from the others
    CHECK(judged[10].low < 99.0);
    CHECK(judged[10].high < 140.0);
    for (const auto k : {0, 1, 2, 3, 4, 5, 6, 8, 9, 11, 12}) {
        CHECK(judged[static_cast<std::size_t>(k)].verdict == net_verdict::fits);
    }
}

TEST_CASE("Many tickets are held against each other in groups", "[expected_net]") {
    std::vector<double> nets;
    for (int k = 0; k < 60; ++k) {
        nets.push_back(95 + k * 7 % 11);
    }
    nets[33] = 140;
    net_limits few;
    few.most_neighbours = 15;
    const auto judged = judge_each_net(one_grower(nets), few);
    for (std::size_t k = 0; k < judged.size(); ++k) {
        CHECK((judged[k].verdict == net_verdict::blocks) == (k == 33));
        CHECK(judged[k].tickets <= 15);
    }
}
