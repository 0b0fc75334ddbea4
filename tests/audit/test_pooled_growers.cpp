#include <catch2/catch.hpp>

#include <cmath>

#include "audit/pooled_model.hpp"
#include "audit/small_season.hpp"
#include "bench/audit_simulation.hpp"
#include "season_files.hpp"

using namespace tarewell::audit;
using tarewell::tests::check_no_nan;
using tarewell::tests::seed_7_season;
using tarewell::tests::small_season;

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
    auto season = seed_7_season();
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

TEST_CASE("Weighing the chosen bundles narrows the total more than weighing any others") {
    auto season = seed_7_season();
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
