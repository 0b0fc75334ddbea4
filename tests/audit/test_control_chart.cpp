#include <catch2/catch.hpp>

#include "audit/control_chart.hpp"

using namespace tarewell::audit;

TEST_CASE("Individuals and moving range: the NIST handbook's example") {
    // NIST/SEMATECH e-Handbook 6.3.2.2: limits 55.8041 and 45.8159 (R2).
    const auto chart = chart_individuals({49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1});
    CHECK(chart.usable);
    CHECK(chart.centre == Approx(50.81));
    CHECK(chart.mean_range == Approx(1.8778).epsilon(3e-5));
    CHECK(chart.upper == Approx(55.8041).epsilon(1e-6));
    CHECK(chart.lower == Approx(45.8159).epsilon(1e-6));
    CHECK(chart.upper_range == Approx(3.267 * 1.8777778).epsilon(1e-7));
    CHECK(chart.values_out.empty());
    CHECK(chart.ranges_out.empty());
}

TEST_CASE("A value outside the baseline's limits is signalled with its side") {
    const auto chart = chart_individuals({100, 101, 100, 101, 100, 101, 90}, 6);
    REQUIRE(chart.values_out.size() == 1);
    CHECK(chart.values_out[0].index == 6);
    CHECK_FALSE(chart.values_out[0].above);
    REQUIRE(chart.ranges_out.size() == 1);
    CHECK(chart.ranges_out[0].index == 6);
}

TEST_CASE("EWMA: the NIST handbook's example") {
    // NIST/SEMATECH e-Handbook 6.3.2.4: target 50, sd 2.0539, lambda .3, limits 52.5884 and
    // 47.4115 (M; the limits and statistics recomputed, C).
    const auto chart = chart_ewma({52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5,
                                   49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1},
                                  {50.0, 2.0539, 0.3, 3.0, true});
    const std::vector<double> printed{50.60, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33,
                                      50.11, 49.36, 49.52, 50.05, 49.38, 49.92, 50.73, 51.23, 51.94, 51.99};
    REQUIRE(chart.statistic.size() == printed.size());
    for (std::size_t i = 0; i < printed.size(); ++i) {
        CHECK(std::abs(chart.statistic[i] - printed[i]) < 0.0051);
    }
    CHECK(chart.upper[0] == Approx(52.5884).epsilon(2e-6));
    CHECK(chart.lower[0] == Approx(47.4115).epsilon(3e-6));
    CHECK(chart.out.empty());
}

TEST_CASE("EWMA limits widen from lambda times three sds to their final width") {
    const auto chart = chart_ewma(std::vector<double>(50, 13.0), {10.0, 1.0, 0.2, 3.0, false});
    CHECK(chart.upper[0] == Approx(10.0 + 3.0 * 0.2));
    CHECK(chart.upper[49] == Approx(10.0 + 3.0 * std::sqrt(0.2 / 1.8)).epsilon(1e-6));
    CHECK_FALSE(chart.out.empty());
    CHECK(chart.out[0].above);
}

TEST_CASE("Charts of too few or equal values say so") {
    CHECK_FALSE(chart_individuals({}).usable);
    CHECK_FALSE(chart_individuals({1.0}).usable);
    CHECK_FALSE(chart_individuals({1.0, 1.0, 1.0}).usable);
    CHECK_FALSE(chart_individuals({1.0, 1.0, 1.0}).sentence.empty());
    CHECK_THROWS_AS(chart_individuals({1.0, 2.0}, 1), std::invalid_argument);
    CHECK_THROWS_AS(chart_ewma({1.0}, {0.0, 0.0, 0.2, 3.0, false}), std::invalid_argument);
    CHECK(chart_ewma({}, {}).statistic.empty());
}
