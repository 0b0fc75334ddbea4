#include <catch2/catch.hpp>

#include <cmath>

#include "audit/pooled_model.hpp"
#include "audit/small_season.hpp"
#include "season_files.hpp"

using namespace tarewell::audit;
using tarewell::tests::check_no_nan;
using tarewell::tests::seed_7_season;
using tarewell::tests::small_season;

TEST_CASE("The seed 7 season gives lme4's fit to seven digits and more") {
    // Fitted with lme4 by tests/audit/compare_lme4.R's method; computed again by dense REML, with nlme and from
    // Henderson's equations.
    const pooled_model model(seed_7_season());
    const auto& fit = model.fit();
    CHECK(fit.status == pooled_status::fitted);
    CHECK(fit.n == 60);
    CHECK(fit.p == 1);
    CHECK(fit.mu == Approx(.991258264).epsilon(1e-8));
    CHECK(fit.sd_grower == Approx(.1808872).epsilon(2e-7));
    CHECK(fit.sd_site == Approx(.09206989).epsilon(1e-7));
    CHECK(fit.sd_bundle == Approx(.2617851).epsilon(2e-7));
    CHECK(fit.reml == Approx(56.51819778).epsilon(1e-9));
    CHECK(fit.reml_weight == Approx(682.4535613).epsilon(1e-9));
    CHECK(fit.grower_effect[0] == Approx(.02974272591).epsilon(1e-7));
    CHECK(fit.grower_effect[1] == Approx(-.0122772518).epsilon(1e-7));
    CHECK(fit.grower_effect[2] == Approx(.00886901288).epsilon(1e-7));
    CHECK_FALSE(fit.approximate);
    check_no_nan(model);
}

TEST_CASE("The number of threads does not change an answer") {
    pooled_options one;
    one.threads = 1;
    const auto a = pooled_model(seed_7_season(), one).growers();
    const auto b = pooled_model(seed_7_season()).growers();
    for (std::size_t g = 0; g < a.growers.size(); ++g) {
        REQUIRE(a.growers[g].to_claim.has_value() == b.growers[g].to_claim.has_value());
        if (a.growers[g].to_claim) {
            CHECK(a.growers[g].to_claim->low == b.growers[g].to_claim->low);
            CHECK(a.growers[g].p_outside == b.growers[g].p_outside);
        }
    }
}

TEST_CASE("What is on hand is the same to the last digit however many threads work, exactly and iteratively") {
    auto season = seed_7_season();
    for (auto& bundle : season.bundles) {
        bundle.bale = bundle.bale >= 45 ? -1 : bundle.bale;
    }
    season.bales.resize(45);
    for (const double largest_work : {5e9, 1.0}) {
        pooled_options options;
        options.largest_work = largest_work;
        const auto once = pooled_model(season, options).total();
        CHECK(once.on_hand_low < once.on_hand_high);
        for (const int threads : {1, 2, 3, 8}) {
            options.threads = threads;
            const auto again = pooled_model(season, options).total();
            CHECK(again.on_hand_expected == once.on_hand_expected);
            CHECK(again.on_hand_low == once.on_hand_low);
            CHECK(again.on_hand_high == once.on_hand_high);
        }
    }
}

TEST_CASE("The iterative method agrees with the exact one within its stated error") {
    pooled_options iterative;
    iterative.largest_work = 1.0;
    iterative.probes = 150;
    iterative.samples = 300;
    const pooled_model exact(seed_7_season());
    const pooled_model approximate(seed_7_season(), iterative);
    CHECK(approximate.fit().approximate);
    CHECK(approximate.fit().reml_error > 0.0);
    CHECK(approximate.fit().sentence.find("It is approximate") != std::string::npos);
    CHECK(exact.fit().sentence.find("approximate") == std::string::npos);
    pooled_options exact_or_none;
    exact_or_none.largest_work = 1.0;
    exact_or_none.never_approximate = true;
    const pooled_model none(seed_7_season(), exact_or_none);
    CHECK(none.fit().status == pooled_status::too_large);
    check_no_nan(none);
    CHECK(std::abs(approximate.fit().reml - exact.fit().reml) < 4.0 * approximate.fit().reml_error);
    CHECK(approximate.fit().mu == Approx(exact.fit().mu).epsilon(0.01));
    CHECK(approximate.fit().sd_bundle == Approx(exact.fit().sd_bundle).epsilon(0.05));
    const auto a = approximate.growers();
    const auto b = exact.growers();
    for (std::size_t g = 0; g < a.growers.size(); ++g) {
        if (b.growers[g].to_claim) {
            const double width = b.growers[g].to_claim->high - b.growers[g].to_claim->low;
            CHECK(std::abs(a.growers[g].to_claim->low - b.growers[g].to_claim->low) < 0.2 * width);
            CHECK(std::abs(a.growers[g].to_claim->high - b.growers[g].to_claim->high) < 0.2 * width);
        }
    }
}

TEST_CASE("A season weighed at one site with one grower reduces to a regression through zero") {
    // By hand: beta = sum (e w / q) / sum (e^2 / q) with one bundle a bale, so the mean of w/e
    // weighted equally; s^2 = sum (w/e - beta)^2 / (n - 1); interval by Student's t, 3 degrees:
    // 1 +- 3.182446 sqrt(s^2 / 4).
    pooled_season season{1, 1, 1, {{9, 0}, {11, 0}, {19, 0}, {21, 0}}, {}};
    for (int k = 0; k < 4; ++k) {
        season.bundles.push_back({k, 0, 0, 0, k < 2 ? 10.0 : 20.0});
    }
    const pooled_model model(season);
    const double s2 = (0.01 + 0.01 + 0.0025 + 0.0025) / 3.0;
    CHECK(model.fit().mu == Approx(1.0));
    CHECK(model.fit().sd_bundle == Approx(std::sqrt(s2)));
    const auto basis = model.bases()[0].to_claim;
    REQUIRE(basis);
    CHECK(basis->high == Approx(1.0 + 3.182446305 * std::sqrt(s2 / 4.0)).epsilon(1e-7));
    CHECK(model.fit().findings.size() == 2); // one grower, one site
    check_no_nan(model);
}

TEST_CASE("The scale's division adds to the scatter of bales, not to that of bundles") {
    auto fine = small_season();
    auto coarse = fine;
    for (auto& bale : coarse.bales) {
        bale.division = 20.0;
    }
    const pooled_model with_division(coarse);
    pooled_options ignore;
    ignore.include_division = false;
    const pooled_model without(coarse, ignore);
    CHECK(with_division.fit().sd_bundle < without.fit().sd_bundle);
    CHECK(without.fit().reml_weight == Approx(pooled_model(fine).fit().reml_weight));
    CHECK(with_division.total().weighed_sd == Approx(std::sqrt(10 * 400.0 / 12.0)));
    check_no_nan(with_division);
}
