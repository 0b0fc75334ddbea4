#include <catch2/catch.hpp>

#include <chrono>
#include <cstdlib>
#include <filesystem>

#include "audit/pooled_model.hpp"
#include "bench/audit_simulation.hpp"
#include "season_files.hpp"

using namespace tarewell::audit;
namespace fs = std::filesystem;

namespace {

// Gives the highest-numbered grower and site a bundle, so R and we count the same levels.
tarewell::bench::simulated_season random_season(int k) {
    tarewell::bench::simulation plan;
    plan.growers = 60 + 20 * k;
    plan.sites = 8 + k;
    plan.bales = 60 + 45 * k;
    plan.bundles_in_bale = 4 + k;
    plan.in_order = k % 3 == 0;
    auto made = tarewell::bench::simulate(plan, 1000 + static_cast<std::uint64_t>(k));
    made.season.bundles[0].grower = plan.growers - 1;
    made.season.bundles[0].site = plan.sites - 1;
    return made;
}

} // namespace

TEST_CASE("Fresh random seasons get lme4's fits and predictions") {
    constexpr int seasons = 8;
    const auto folder = fs::temp_directory_path() / "tarewell_compare_lme4";
    fs::create_directories(folder);
    std::vector<pooled_season> made;
    for (int k = 1; k <= seasons; ++k) {
        made.push_back(random_season(k).season);
        tarewell::tests::write_lme4_files(made.back(), folder, k);
    }
    const auto command = "Rscript " + tarewell::tests::source_path("tests/audit/compare_lme4.R ") + folder.string() +
                         ' ' + std::to_string(seasons) + " > " + (folder / "log").string() + " 2>&1";
    INFO("needs Rscript with lme4 (.setup/packages); what it said is in " << (folder / "log"));
    REQUIRE(std::system(command.c_str()) == 0);
    double worst_reml = 0.0;
    double worst_effect = 0.0;
    double worst_sd = 0.0;
    double lme4_seconds = 0.0;
    double our_seconds = 0.0;
    for (int k = 1; k <= seasons; ++k) {
        const auto rows = tarewell::tests::read_numbers((folder / ("lme4_" + std::to_string(k) + ".csv")).string());
        const auto start = std::chrono::steady_clock::now();
        const pooled_model model(made[static_cast<std::size_t>(k - 1)]);
        our_seconds += std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
        const auto& fit = model.fit();
        lme4_seconds += rows[5][0];
        CHECK(fit.mu == Approx(rows[0][0]).epsilon(1e-5));
        CHECK(std::abs(fit.sd_grower - rows[1][0]) < 1e-5);
        CHECK(std::abs(fit.sd_site - rows[2][0]) < 1e-5);
        CHECK(fit.sd_bundle == Approx(rows[3][0]).epsilon(1e-5));
        CHECK(fit.reml == Approx(rows[4][0]).epsilon(1e-5));
        CHECK(fit.reml <= rows[4][0] + 1e-7 * std::abs(rows[4][0]));
        worst_reml = std::max(worst_reml, std::abs(fit.reml - rows[4][0]));
        for (std::size_t s = 1; s < 4; ++s) {
            const double ours = s == 1 ? fit.sd_grower : s == 2 ? fit.sd_site : fit.sd_bundle;
            worst_sd = std::max(worst_sd, std::abs(ours - rows[s][0]));
        }
        for (std::size_t g = 0; g < fit.grower_effect.size(); ++g) {
            worst_effect = std::max(worst_effect, std::abs(fit.grower_effect[g] - rows[6 + g][0]));
        }
    }
    CHECK(worst_effect < 1e-5);
    fs::remove_all(folder);
    WARN("largest differences from lme4: criterion " << worst_reml << ", sds " << worst_sd << ", growers' effects "
                                                     << worst_effect << "; lme4's fits took " << lme4_seconds
                                                     << " s, ours with all intervals " << our_seconds << " s");
}
