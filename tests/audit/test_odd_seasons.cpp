#include <catch2/catch.hpp>

#include <cmath>

#include "audit/gross_errors.hpp"
#include "audit/pooled_model.hpp"
#include "audit/small_season.hpp"
#include "bench/audit_simulation.hpp"

using namespace tarewell::audit;
using tarewell::tests::check_no_nan;
using tarewell::tests::small_season;

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
