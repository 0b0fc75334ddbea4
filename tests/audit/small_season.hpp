#pragma once

#include <catch2/catch.hpp>

#include <cmath>

#include "audit/pooled_model.hpp"

namespace tarewell::tests {

// Two growers at one site, three at another; weights by hand.
inline audit::pooled_season small_season() {
    audit::pooled_season season{5, 2, 1, {}, {}};
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

inline void check_sane(const audit::ratio_interval& interval) {
    CHECK(std::isfinite(interval.ratio));
    CHECK(std::isfinite(interval.low));
    CHECK(std::isfinite(interval.high));
    CHECK(interval.low <= interval.high);
}

inline void check_no_nan(const audit::pooled_model& model) {
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
    for (const auto& choice : model.weigh_next(5, audit::weigh_goal::total)) {
        CHECK(choice.sd_after <= choice.sd_before);
    }
}

} // namespace tarewell::tests
