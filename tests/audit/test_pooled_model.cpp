#include <catch2/catch.hpp>

#include <cmath>

#include "audit/gross_errors.hpp"
#include "audit/pooled_model.hpp"
#include "bench/audit_simulation.hpp"
#include "season_files.hpp"

using namespace tarewell::audit;
using tarewell::tests::oracle_season;

namespace {

// Two growers at one site, three at another; weights by hand.
pooled_season small_season() {
    pooled_season season{5, 2, 1, {}, {}};
    const std::vector<std::vector<std::pair<int, double>>> bales{
        {{0, 40}, {1, 60}, {0, 30}}, {{1, 50}, {1, 70}},          {{0, 45}, {0, 55}},
        {{2, 40}, {3, 60}, {4, 30}}, {{2, 50}, {3, 20}, {3, 65}}, {{4, 45}, {4, 35}, {2, 25}},
        {{0, 35}, {1, 25}, {1, 80}}, {{2, 90}, {4, 15}},          {{3, 44}, {4, 51}},
        {{0, 70}, {1, 31}}};
    const std::vector<double> nets{118, 131, 88, 141, 139, 96, 150, 93, 101, 92};
    for (std::size_t k = 0; k < bales.size(); ++k) {
        season.bales.push_back({nets[k], 0.0});
        for (const auto& [grower, estimate] : bales[k]) {
            season.bundles.push_back({static_cast<int>(k), grower, grower < 2 ? 0 : 1, 0, estimate});
        }
    }
    return season;
}

void check_sane(const ratio_interval& interval) {
    CHECK(std::isfinite(interval.ratio));
    CHECK(std::isfinite(interval.low));
    CHECK(std::isfinite(interval.high));
    CHECK(interval.low <= interval.high);
}

void check_no_nan(const pooled_model& model) {
    const auto& fit = model.fit();
    for (const double value : {fit.mu, fit.sd_grower, fit.sd_site, fit.sd_bundle, fit.reml, fit.reml_weight}) {
        CHECK(std::isfinite(value));
    }
    CHECK_FALSE(fit.sentence.empty());
    const auto report = model.growers();
    for (const auto& grower : report.growers) {
        CHECK(std::isfinite(grower.p_outside));
        CHECK(std::isfinite(grower.reml_ratio));
        if (grower.to_claim) {
            check_sane(*grower.to_claim);
            check_sane(*grower.to_bases);
        }
    }
    for (const auto& site : model.sites()) {
        if (site.to_claim) {
            check_sane(*site.to_claim);
        }
    }
    const auto total = model.total();
    CHECK(std::isfinite(total.total_low));
    CHECK(std::isfinite(total.total_high));
    CHECK_FALSE(total.sentence.empty());
    for (const auto& choice : model.weigh_next(5, weigh_goal::total)) {
        CHECK(choice.sd_after <= choice.sd_before);
    }
}

} // namespace

TEST_CASE("The oracle season gives lme4's fit to seven digits and more") {
    // Fitted with lme4 by tests/audit/compare_lme4.R's method, checked by dense REML, nlme and
    // Henderson's equations (mark C, the project's oracle).
    const pooled_model model(oracle_season());
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
    const auto a = pooled_model(oracle_season(), one).growers();
    const auto b = pooled_model(oracle_season()).growers();
    for (std::size_t g = 0; g < a.growers.size(); ++g) {
        REQUIRE(a.growers[g].to_claim.has_value() == b.growers[g].to_claim.has_value());
        if (a.growers[g].to_claim) {
            CHECK(a.growers[g].to_claim->low == b.growers[g].to_claim->low);
            CHECK(a.growers[g].p_outside == b.growers[g].p_outside);
        }
    }
}

TEST_CASE("What is on hand is the same to the last digit however many threads work, exactly and iteratively") {
    auto season = oracle_season();
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
    const pooled_model exact(oracle_season());
    const pooled_model approximate(oracle_season(), iterative);
    CHECK(approximate.fit().approximate);
    CHECK(approximate.fit().reml_error > 0.0);
    CHECK(approximate.fit().sentence.find("It is approximate") != std::string::npos);
    CHECK(exact.fit().sentence.find("approximate") == std::string::npos);
    pooled_options exact_or_none;
    exact_or_none.largest_work = 1.0;
    exact_or_none.never_approximate = true;
    const pooled_model none(oracle_season(), exact_or_none);
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

TEST_CASE("The program's constant is never charged to the growers who used it") {
    tarewell::bench::simulation plan;
    plan.bales = 400;
    auto season = tarewell::bench::simulate(plan, 5).season;
    season.bases = 2;
    // Odd growers used a constant that claims 39 % too much.
    for (auto& bundle : season.bundles) {
        if (bundle.grower % 2 == 1) {
            bundle.basis = 1;
            bundle.estimate *= 1.39;
        }
    }
    const pooled_model model(season);
    REQUIRE(model.fit().p == 2);
    const double ratio = *model.fit().mu_by_basis[1] / *model.fit().mu_by_basis[0];
    CHECK(ratio == Approx(1.0 / 1.39).epsilon(0.08));
    const auto report = model.growers();
    double mean_odd = 0.0;
    int odd = 0;
    for (const auto& grower : report.growers) {
        if (grower.to_bases && grower.grower % 2 == 1) {
            mean_odd += grower.to_bases->ratio;
            ++odd;
            CHECK(grower.to_claim->ratio < grower.to_bases->ratio);
        }
    }
    CHECK(mean_odd / odd == Approx(1.0).epsilon(0.05));
}

TEST_CASE("Bases always pooled in the same proportion share one mean, and that is said") {
    auto season = small_season();
    season.bases = 3;
    for (std::size_t b = 0; b < season.bundles.size(); ++b) {
        season.bundles[b].basis = 1;
    }
    // Each bundle split in the same proportion over two bases.
    const auto whole = season.bundles;
    for (const auto& bundle : whole) {
        season.bundles.push_back(bundle);
        season.bundles.back().basis = 2;
        season.bundles.back().estimate *= 0.5;
    }
    const pooled_model model(season);
    CHECK(model.fit().p == 1);
    CHECK(model.fit().mu_by_basis[1].has_value());
    CHECK_FALSE(model.fit().mu_by_basis[2].has_value());
    const auto& findings = model.fit().findings;
    CHECK(std::any_of(findings.begin(), findings.end(),
                      [](const auto& f) { return f.kind == finding_kind::bases_alike; }));
    CHECK(std::any_of(findings.begin(), findings.end(),
                      [](const auto& f) { return f.kind == finding_kind::basis_never_weighed; }));
    check_no_nan(model);
}

TEST_CASE("Growers always pooled in the same proportion are reported as a pair") {
    auto season = oracle_season();
    // Grower 101 comes along with grower 90 everywhere, always with a third of the estimate.
    season.growers = 101;
    const auto whole = season.bundles;
    for (const auto& bundle : whole) {
        if (bundle.grower == 89) {
            season.bundles.push_back(bundle);
            season.bundles.back().grower = 100;
            season.bundles.back().estimate /= 3.0;
        }
    }
    const pooled_model model(season);
    const auto report = model.growers();
    REQUIRE(report.growers[100].group >= 0);
    CHECK(report.growers[89].group == report.growers[100].group);
    const auto& group = report.groups[static_cast<std::size_t>(report.growers[100].group)];
    CHECK(group.growers == std::vector<int>{89, 100});
    CHECK(group.always_proportional);
    REQUIRE(group.to_claim);
    // Together they are known better than each of them.
    const auto width = [](const ratio_interval& i) { return i.high - i.low; };
    CHECK(width(*group.to_claim) < width(*report.growers[89].to_claim));
    CHECK(width(*group.to_claim) < width(*report.growers[100].to_claim));
    CHECK(report.growers[89].call == grower_call::cannot_tell);
}

TEST_CASE("A grower never weighed gets no ratio and no call") {
    auto season = small_season();
    season.growers = 6;
    season.bundles.push_back({-1, 5, 1, 0, 50.0});
    const pooled_model model(season);
    const auto report = model.growers();
    CHECK(report.growers[5].call == grower_call::never_weighed);
    CHECK_FALSE(report.growers[5].to_claim.has_value());
    CHECK(report.growers[5].estimate == 50.0);
    const auto total = model.total();
    CHECK(total.on_hand_bundles == 1);
    CHECK(total.on_hand_low < total.on_hand_expected);
    CHECK(total.on_hand_expected == Approx(50.0).epsilon(0.3));
    check_no_nan(model);
}

TEST_CASE("No bales, one bale, zero estimates and negative nets give clear answers") {
    const pooled_model nothing(pooled_season{});
    CHECK(nothing.fit().status == pooled_status::no_bales);
    check_no_nan(nothing);

    const pooled_model one(pooled_season{2, 1, 1, {{95, 1}}, {{0, 0, 0, 0, 50}, {0, 1, 0, 0, 50}}});
    CHECK(one.fit().status == pooled_status::too_few_bales);
    CHECK(one.fit().mu == Approx(0.95));
    CHECK(one.growers().growers[0].call == grower_call::cannot_tell);
    CHECK(one.growers().groups.size() == 1); // the two cannot be told apart
    check_no_nan(one);

    auto zero = small_season();
    zero.bundles[0].estimate = 0.0;
    zero.bales.push_back({80, 0});
    zero.bundles.push_back({static_cast<int>(zero.bales.size()) - 1, 0, 0, 0, 0.0});
    const pooled_model with_zero(zero);
    CHECK(with_zero.fit().n == 10);
    CHECK(with_zero.total().weighed == Approx(1149 + 80));
    check_no_nan(with_zero);

    auto negative = small_season();
    negative.bales[3].net = -5.0;
    negative.bundles[1].estimate = -1.0;
    const pooled_model with_negative(negative);
    CHECK(with_negative.fit().n == 8);
    CHECK(with_negative.total().weighed == Approx(1149 - 141));
    CHECK(with_negative.total().on_hand_bundles == 3);
    check_no_nan(with_negative);

    auto not_a_number = small_season();
    not_a_number.bales[0].net = std::nan("");
    check_no_nan(pooled_model(not_a_number));

    CHECK_THROWS_AS(pooled_model(pooled_season{1, 1, 1, {}, {{0, 0, 0, 0, 1.0}}}), std::invalid_argument);
}

TEST_CASE("All estimates equal, and weights copied from the estimates, are no trouble") {
    auto equal = small_season();
    for (auto& bundle : equal.bundles) {
        bundle.estimate = 50.0;
    }
    check_no_nan(pooled_model(equal));

    auto copied = small_season();
    for (auto& bale : copied.bales) {
        bale.net = 0.0;
    }
    for (const auto& bundle : copied.bundles) {
        copied.bales[static_cast<std::size_t>(bundle.bale)].net += bundle.estimate;
    }
    const pooled_model exact(copied);
    CHECK(exact.fit().status == pooled_status::no_scatter);
    CHECK(exact.fit().mu == Approx(1.0));
    check_no_nan(exact);
    CHECK_FALSE(find_gross_errors(copied).tested);

    auto all_zero = small_season();
    for (auto& bale : all_zero.bales) {
        bale.net = 0.0;
    }
    check_no_nan(pooled_model(all_zero));
    // Three bales, three growers: as many effects as weights.
    check_no_nan(pooled_model(
        pooled_season{3, 1, 1, {{10, 0}, {12, 0}, {9, 0}}, {{0, 0, 0, 0, 10}, {1, 1, 0, 0, 10}, {2, 2, 0, 0, 10}}}));
}

TEST_CASE("A spot weight is taken off its bale and never counted twice") {
    const auto season = small_season();
    const auto spotted = take_off_spot_weights(season, {{0, 37.5, 0.5}, {3, 48.0, 0.0}, {4, 81.0, 0.0}});
    double before = 0.0;
    double after = 0.0;
    for (const auto& bale : season.bales) {
        before += bale.net;
    }
    for (const auto& bale : spotted.season.bales) {
        after += bale.net;
    }
    CHECK(spotted.season.bales.size() == 12); // bale 1 is all spots now; three spots added
    CHECK(after == Approx(before - 131 + 48 + 81));
    CHECK(spotted.season.bales[0].net == Approx(118 - 37.5));
    CHECK(spotted.season.bales[0].division == Approx(0.5));
    CHECK(spotted.bale_was[1] == 2);
    CHECK(spotted.bale_was.back() == -1);
    check_no_nan(pooled_model(spotted.season));
    const auto over = take_off_spot_weights(season, {{0, 200.0, 0.0}});
    REQUIRE(over.findings.size() == 1);
    CHECK(over.findings[0].kind == finding_kind::spot_over_net);
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

TEST_CASE("A bale with more than twice its weight is found, and clean bales are left alone") {
    const auto made = tarewell::bench::simulate({}, 4);
    CHECK(find_gross_errors(made.season).suspects.empty());
    auto season = made.season;
    season.bales[7].net *= 2.2;
    const auto report = find_gross_errors(season);
    REQUIRE(report.suspects.size() == 1);
    CHECK(report.suspects[0].bale == 7);
    CHECK(report.suspects[0].t > 3.5);
    CHECK(report.suspects[0].expected == Approx(made.season.bales[7].net).epsilon(0.3));
    CHECK_FALSE(find_gross_errors(pooled_season{}).tested);
}

TEST_CASE("Weighing the chosen bundles narrows the total more than weighing any others") {
    auto season = oracle_season();
    for (auto& bundle : season.bundles) {
        bundle.bale = bundle.bale >= 45 ? -1 : bundle.bale;
    }
    season.bales.resize(45);
    const pooled_model model(season);
    const auto choices = model.weigh_next(20, weigh_goal::total);
    REQUIRE(choices.size() == 20);
    // What was promised is what a model at the same variances gives: the sd before the second
    // choice is the sd after the first, and all of them fall.
    for (std::size_t k = 1; k < choices.size(); ++k) {
        CHECK(choices[k].sd_before == Approx(choices[k - 1].sd_after));
        CHECK(choices[k].sd_after < choices[k].sd_before);
    }
    CHECK(choices.back().sd_after < 0.7 * choices.front().sd_before);
    const auto growers = model.weigh_next(20, weigh_goal::growers);
    REQUIRE(growers.size() == 20);
    CHECK(growers.back().sd_after < growers.front().sd_before);
    CHECK(model.weigh_next(1000, weigh_goal::total).size() == 150);
    CHECK(model.weigh_next(1000, weigh_goal::total).back().sd_after < 1e-3);
}
