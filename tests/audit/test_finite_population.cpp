#include <catch2/catch.hpp>

#include <numeric>

#include "audit/finite_population.hpp"

using namespace tarewell::audit;

TEST_CASE("Firs: ratio and regression totals of Scheaffer's exercise 6.9") {
    // Scheaffer, Mendenhall and Ott, Elementary Survey Sampling, exercise 6.9: N 200, X 4200
    // (read in a secondary source); standard errors recomputed here.
    const paired_sample firs{{12, 30, 24, 24, 18, 30, 12, 6, 36, 42}, {18, 42, 24, 36, 24, 36, 14, 10, 48, 54}};
    const auto ratio = ratio_total(firs, 200, 4200);
    CHECK(ratio.total == Approx(5492.308).epsilon(1e-7));
    CHECK(ratio.form == error_form::a);
    CHECK(ratio.standard_error == Approx(214.219).epsilon(2e-6));
    CHECK(ratio.other_error == Approx(192.248).epsilon(2e-6));
    const auto regression = regression_total(firs, 200, 4200);
    CHECK(regression.total == Approx(5515.502).epsilon(1e-7));
    CHECK(regression.standard_error == Approx(224.304).epsilon(2e-6));
}

TEST_CASE("Double sampling of the whole population is single sampling") {
    const paired_sample firs{{12, 30, 24, 24, 18, 30, 12, 6, 36, 42}, {18, 42, 24, 36, 24, 36, 14, 10, 48, 54}};
    const auto once = ratio_total(firs, 200, 4200);
    const auto twice = double_sampling_ratio(firs, 200, 21, 200);
    CHECK(twice.total == Approx(once.total));
    CHECK(twice.standard_error == Approx(once.standard_error));
    CHECK(twice.other_error == Approx(once.other_error));
    CHECK(double_sampling_regression(firs, 200, 21, 200).standard_error ==
          Approx(regression_total(firs, 200, 4200).standard_error));
    // And a first sample no larger than the second leaves only the mean of y to expand.
    const auto expanded = double_sampling_ratio(firs, 10, 23.4, 200);
    CHECK(expanded.total == Approx(expansion_total(firs.y, 20, 200).total));
    CHECK(expanded.standard_error == Approx(expansion_total(firs.y, 20, 200).standard_error));
}

TEST_CASE("Api: the enrolment total from fifteen school districts") {
    // R package survey, data api: totals by district of apiclus1$enroll; svytotal gives
    // 3404940 (SE 932235.027) with pw 33.846996 and fpc 757 (read in the source; further digits computed with R).
    const std::vector<double> districts{6777, 15038, 1668, 6958, 9025,  683, 274, 1436,
                                        7375, 14968, 2180, 6081, 25814, 680, 1641};
    const auto total = expansion_total(districts, 33.846996307373, 757);
    CHECK(total.total == Approx(3404940).epsilon(2e-7));
    CHECK(total.standard_error == Approx(932235.027).epsilon(2e-9));
}

TEST_CASE("Election: probability proportional to size with replacement") {
    // R package survey, data election: a candidate's votes in election_pps and $p, inclusion
    // probabilities of 40 draws; svytotal gives 64518472 (SE 2671455) (read in the source).
    const std::vector<double> votes{954764, 439242, 55541,  114703, 152838, 108126, 37322,  7745,   583774, 9432,
                                    1182,   32329,  171157, 42739,  257267, 26428,  764,    172563, 4080,   42263,
                                    36279,  31629,  174707, 69289,  93219,  153424, 11785,  110653, 157591, 345482,
                                    61290,  580553, 13964,  83079,  49538,  145,    264757, 23025,  52449,  10638};
    std::vector<double> probability{
        0.903657562594823771, 0.287091367872411740, 0.060366041545672836, 0.076014010607052443, 0.090942869138277788,
        0.063902041242056035, 0.017963649547903145, 0.003664055760154091, 0.679318485284374662, 0.004723616416839011,
        0.000495356655285770, 0.015459327333028941, 0.099615569328180276, 0.027314496097022432, 0.295042203638315459,
        0.015485145087821459, 0.000382447007659827, 0.115427050836579156, 0.001712921971300898, 0.020977097887285794,
        0.028781977279429133, 0.016334377102130003, 0.093628948346891311, 0.057947778513440358, 0.116679728299112120,
        0.108656258583058787, 0.006916748627280736, 0.061023877937786179, 0.128951079270360980, 0.234546729081949457,
        0.036216802186213051, 0.362437559222164418, 0.007243085047858157, 0.043396203438916335, 0.023925141247860729,
        0.000142858243185264, 0.264688097210387274, 0.015139531410332292, 0.034814037509152934, 0.005531195786748960};
    for (auto& one : probability) {
        one /= 40.0;
    }
    const auto total = hansen_hurwitz_total(votes, probability);
    CHECK(total.total == Approx(64518472).epsilon(1e-8));
    CHECK(total.standard_error == Approx(2671455).epsilon(2e-7));
    CHECK(total.form == error_form::hansen_hurwitz);
}

TEST_CASE("Pro-rata shares sum to the net weight, and nothing to share by gives zeros") {
    const auto shares = pro_rata_shares(417, {21.7, 266.9, 24.1});
    CHECK(std::accumulate(shares.begin(), shares.end(), 0.0) == Approx(417.0));
    CHECK(pro_rata_shares(417, {0.0, 0.0}) == std::vector<double>{0.0, 0.0});
    CHECK_THROWS_AS(pro_rata_shares(417, {-1.0}), std::invalid_argument);
    CHECK(pro_rata_total(900, 1000, 500).total == Approx(1350.0));
    CHECK_FALSE(pro_rata_total(0, 0, 500).usable);
}

TEST_CASE("Samples too small for a standard error say so") {
    CHECK_FALSE(ratio_total({{1}, {1}}, 10, 10).usable);
    CHECK_FALSE(ratio_total({{0, 0}, {1, 1}}, 10, 10).usable);
    CHECK_FALSE(regression_total({{1, 1, 1}, {1, 2, 3}}, 10, 10).usable);
    CHECK_FALSE(hansen_hurwitz_total({1}, {0.5}).usable);
    CHECK_FALSE(expansion_total({}, 1, 10).sentence.empty());
    CHECK_THROWS_AS(ratio_total({{1, 2}, {1}}, 10, 10), std::invalid_argument);
    CHECK_THROWS_AS(ratio_total({{1, 2}, {1, 2}}, 1, 10), std::invalid_argument);
    CHECK_THROWS_AS(hansen_hurwitz_total({1, 2}, {0.5, 0.0}), std::invalid_argument);
}
