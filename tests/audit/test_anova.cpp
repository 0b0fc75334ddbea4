#include <catch2/catch.hpp>

#include <cmath>
#include <limits>

#include "audit/anova.hpp"

using namespace tarewell::audit;

// NIST Statistical Reference Datasets, analysis of variance and linear regression; data and
// certified values as in the files that SciPy's tests carry (read in the source).

TEST_CASE("SiRstv: the certified analysis of variance is reproduced") {
    const auto result = analyse_one_way({{196.3052, 196.1240, 196.1890, 196.2569, 196.3403},
                                         {196.3042, 196.3825, 196.1669, 196.3257, 196.0422},
                                         {196.1303, 196.2005, 196.2889, 196.0343, 196.1811},
                                         {196.2795, 196.1748, 196.1494, 196.1485, 195.9885},
                                         {196.2119, 196.1051, 196.1850, 196.0052, 196.2090}});
    CHECK(result.between_square_sum == Approx(5.11462616000000E-02).epsilon(1e-12));
    CHECK(result.within_square_sum == Approx(2.16636560000000E-01).epsilon(1e-12));
    CHECK(result.between_mean_square == Approx(1.27865654000000E-02).epsilon(1e-12));
    CHECK(result.within_mean_square == Approx(1.08318280000000E-02).epsilon(1e-12));
    CHECK(result.f == Approx(1.18046237440255).epsilon(1e-12));
    CHECK(result.r_square == Approx(1.90999039051129E-01).epsilon(1e-12));
    CHECK(result.residual_sd == Approx(1.04076068334656E-01).epsilon(1e-12));
    CHECK(result.between_freedom == 4);
    CHECK(result.within_freedom == 20);
}

TEST_CASE("AtmWtAg: values with seven constant leading digits keep theirs") {
    const auto result = analyse_one_way(
        {{107.8681568, 107.8681465, 107.8681572, 107.8681785, 107.8681446, 107.8681903, 107.8681526, 107.8681494,
          107.8681616, 107.8681587, 107.8681519, 107.8681486, 107.8681419, 107.8681569, 107.8681508, 107.8681672,
          107.8681385, 107.8681518, 107.8681662, 107.8681424, 107.8681360, 107.8681333, 107.8681610, 107.8681477},
         {107.8681079, 107.8681344, 107.8681513, 107.8681197, 107.8681604, 107.8681385, 107.8681642, 107.8681365,
          107.8681151, 107.8681082, 107.8681517, 107.8681448, 107.8681198, 107.8681482, 107.8681334, 107.8681609,
          107.8681101, 107.8681512, 107.8681469, 107.8681360, 107.8681254, 107.8681261, 107.8681450, 107.8681368}});
    // The doubles nearest to the decimals differ from them in the 9th digit of the variation.
    CHECK(result.f == Approx(15.9467335677930).epsilon(1e-8));
    CHECK(result.between_square_sum == Approx(3.63834187500000E-09).epsilon(1e-8));
    CHECK(result.within_square_sum == Approx(1.04951729166667E-08).epsilon(1e-8));
    CHECK(result.r_square == Approx(2.57426544538321E-01).epsilon(1e-8));
}

TEST_CASE("SmLs07: thirteen constant leading digits lose what the doubles lost, no more") {
    // Each treatment is (base + 0.4, then 0.3 and 0.5 in turn) shifted by a tenth or two; the
    // certified mean square between is .21, but the doubles nearest to the values have
    // .2100195336751837 (computed by rational arithmetic on those doubles).
    const std::vector<double> shift{0.0, -0.1, 0.1, -0.1, 0.1, -0.1, 0.1, -0.1, 0.1};
    std::vector<std::vector<double>> groups;
    for (const double by : shift) {
        groups.emplace_back();
        for (int k = 0; k < 21; ++k) {
            const int tenths = static_cast<int>(std::lround(10.0 * by)) + (k == 0 ? 4 : (k % 2 == 1 ? 3 : 5));
            groups.back().push_back(
                static_cast<double>((10000000000000.0L + static_cast<long double>(tenths)) / 10.0L));
        }
    }
    const auto result = analyse_one_way(groups);
    CHECK(result.between_mean_square == Approx(.2100195336751837).epsilon(1e-13));
    CHECK(result.f == Approx(21.0).epsilon(1e-3));
}

TEST_CASE("Norris: the certified straight line is reproduced") {
    const auto line = fit_line({0.2, 337.4, 118.2, 884.6, 10.1,  226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4,
                                0.6, 775.5, 666.9, 338.0, 447.5, 11.6,  556.0, 228.1, 995.8, 887.6, 120.2, 0.3,
                                0.3, 556.8, 339.1, 887.2, 999.0, 779.0, 11.1,  118.3, 229.2, 669.1, 448.9, 0.5},
                               {0.1, 338.8, 118.1, 888.0, 9.2,   228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3,
                                0.1, 778.1, 668.8, 339.3, 448.9, 10.8,  557.7, 228.3, 998.0, 888.8, 119.6, 0.3,
                                0.6, 557.6, 339.3, 888.0, 998.5, 778.9, 10.2,  117.6, 228.9, 668.4, 449.2, 0.2});
    CHECK(line.intercept == Approx(-0.262323073774029).epsilon(1e-11));
    CHECK(line.slope == Approx(1.00211681802045).epsilon(1e-13));
    CHECK(line.intercept_error == Approx(0.232818234301152).epsilon(1e-12));
    CHECK(line.slope_error == Approx(0.429796848199937E-03).epsilon(1e-12));
    CHECK(line.residual_sd == Approx(0.884796396144373).epsilon(1e-12));
    CHECK(line.r_square == Approx(0.999993745883712).epsilon(1e-13));
}

TEST_CASE("Too few groups, points or pairs give a sentence and no NaN") {
    CHECK_FALSE(analyse_one_way({}).usable);
    CHECK_FALSE(analyse_one_way({{1.0, 2.0}}).usable);
    CHECK_FALSE(analyse_one_way({{1.0}, {2.0}}).sentence.empty());
    const auto equal = analyse_one_way({{1.0, 1.0}, {2.0, 2.0}});
    CHECK(equal.usable);
    CHECK(equal.f == 0.0);
    CHECK(equal.p == 0.0);
    CHECK_FALSE(fit_line({1.0, 1.0, 1.0}, {1.0, 2.0, 3.0}).usable);
    CHECK_FALSE(compare_scales({1.0}, {2.0}).usable);
    CHECK_THROWS_AS(fit_line({1.0}, {}), std::invalid_argument);
    CHECK_THROWS_AS(analyse_one_way({{std::numeric_limits<double>::quiet_NaN()}}), std::invalid_argument);
}

TEST_CASE("Two scales that differ by the same half pound each time are told apart") {
    const auto same = compare_scales({100, 200, 300}, {100.5, 200.5, 300.5});
    CHECK(same.mean == Approx(0.5));
    CHECK(same.p == 0.0);
    // Student 1908, additional hours of sleep by two drugs: t = 4.0621, p = 0.00283 (R, t.test of
    // R's data set sleep, paired).
    const auto sleep = compare_scales({0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0},
                                      {1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4});
    CHECK(sleep.mean == Approx(1.58));
    CHECK(sleep.p == Approx(0.00283289).epsilon(1e-5));
    CHECK(sleep.low == Approx(0.7001142).epsilon(1e-6));
    CHECK(sleep.high == Approx(2.4598858).epsilon(1e-6));
}
