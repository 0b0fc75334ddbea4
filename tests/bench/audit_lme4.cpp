// The pooled fit against lme4's of the same data in the same run (needs Rscript with lme4):
//   audit_lme4 [growers = 1000] [bales = 2000] [sites = 40] [runs = 3]
// Prints the seconds of both, their ratio, and to how many digits the answers agree. lme4 is asked
// for the REML fit alone, and so is ours; all intervals by integration come on top, and are said.

#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>

#include "audit/pooled_model.hpp"
#include "audit/prepared_season.hpp"
#include "audit/variance_search.hpp"
#include "bench/audit_simulation.hpp"
#include "season_files.hpp"

using namespace tarewell;
namespace fs = std::filesystem;

namespace {

template <typename work> double seconds_of(work&& done) {
    const auto start = std::chrono::steady_clock::now();
    done();
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

// The REML estimates alone, without intervals.
void fit_only(const audit::pooled_season& season, int threads) {
    const auto prepared = audit::prepare(season, {});
    const audit::mixed_solver solver(audit::whitened_design(season, prepared, 0.0), {}, {}, {});
    const auto best = audit::find_variances(solver, threads);
    if (!best.converged) {
        std::fputs("ours did not converge\n", stderr);
    }
}

double digits(double ours, double theirs) {
    const double off = std::abs(ours - theirs) / std::max(std::abs(theirs), 1e-300);
    return off > 0.0 ? -std::log10(off) : 16.0;
}

void compare(const audit::pooled_season& season, const fs::path& folder) {
    tests::write_lme4_files(season, folder, 1);
    const auto command =
        "Rscript " + tarewell::tests::source_path("tests/audit/compare_lme4.R ") + folder.string() + " 1";
    if (std::system(command.c_str()) != 0) {
        std::fputs("Rscript with lme4 is needed: r-cran-lme4\n", stderr);
        std::exit(1);
    }
    const auto lme4 = tests::read_numbers((folder / "lme4_1.csv").string());
    const double alone = seconds_of([&] { fit_only(season, 1); });
    const double two = seconds_of([&] { fit_only(season, 2); });
    audit::pooled_options options;
    options.threads = 1;
    std::optional<audit::pooled_model> model;
    const double whole = seconds_of([&] { model.emplace(season, options); });
    const auto& fit = model->fit();
    double worst = 0.0;
    for (std::size_t g = 0; g < fit.grower_effect.size(); ++g) {
        worst = std::max(worst, std::abs(fit.grower_effect[g] - lme4[6 + g][0]));
    }
    std::printf("lme4 %.3f s; ours %.3f s with one thread, ratio %.3f; %.3f s with two, ratio %.3f; "
                "with all intervals %.3f s\n",
                lme4[5][0], alone, alone / lme4[5][0], two, two / lme4[5][0], whole);
    std::printf("  digits that agree: criterion %.1f, mu %.1f, sds %.1f %.1f %.1f; growers' effects "
                "differ by at most %.1e\n",
                digits(fit.reml, lme4[4][0]), digits(fit.mu, lme4[0][0]), digits(fit.sd_grower, lme4[1][0]),
                digits(fit.sd_site, lme4[2][0]), digits(fit.sd_bundle, lme4[3][0]), worst);
}

} // namespace

int main(int argc, char** argv) {
    bench::simulation plan;
    plan.growers = argc > 1 ? std::atoi(argv[1]) : 1000;
    plan.bales = argc > 2 ? std::atoi(argv[2]) : 2000;
    plan.sites = argc > 3 ? std::atoi(argv[3]) : 40;
    const auto folder = fs::temp_directory_path() / "tarewell_audit_lme4";
    fs::create_directories(folder);
    std::printf("%d growers, %d bales of %d bundles, %d sites\n", plan.growers, plan.bales, plan.bundles_in_bale,
                plan.sites);
    for (int run = 0; run < (argc > 4 ? std::atoi(argv[4]) : 3); ++run) {
        auto season = bench::simulate(plan, 500 + static_cast<std::uint64_t>(run)).season;
        season.bundles[0].grower = plan.growers - 1; // so that both count the same levels
        compare(season, folder);
    }
    fs::remove_all(folder);
    return 0;
}
