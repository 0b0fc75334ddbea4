// Time and memory of one audit at the size of a whole state or more:
//   audit_scale [growers = 100000] [bales = 200000] [sites = 1000] [visitors % = 0] [largest work]
// Five bundles a bale. A visitor grower delivers every second bundle to another site, which joins
// the sites into one component; with 1 site (or many visitors) the iterative method takes over.
// The largest work of an exact factor: 1 makes the iterative method run, 1e13 the exact one.

#include <sys/resource.h>

#include <chrono>
#include <cstdio>
#include <cstdlib>

#include "audit/pooled_model.hpp"
#include "bench/audit_simulation.hpp"

using namespace tarewell;

namespace {

double seconds_since(std::chrono::steady_clock::time_point start) {
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

} // namespace

int main(int argc, char** argv) {
    const int growers = argc > 1 ? std::atoi(argv[1]) : 100'000;
    const int bales = argc > 2 ? std::atoi(argv[2]) : 200'000;
    const int sites = argc > 3 ? std::atoi(argv[3]) : 1'000;
    const double visitors = argc > 4 ? std::atof(argv[4]) : 0.0;
    audit::pooled_options options;
    options.largest_work = argc > 5 ? std::atof(argv[5]) : options.largest_work;
    const auto season = bench::large_season(growers, bales, sites, visitors, 11);
    auto start = std::chrono::steady_clock::now();
    const audit::pooled_model model(season, options);
    const double fit_seconds = seconds_since(start);
    start = std::chrono::steady_clock::now();
    const auto report = model.growers();
    const double report_seconds = seconds_since(start);
    start = std::chrono::steady_clock::now();
    const auto total = model.total();
    const double total_seconds = seconds_since(start);
    const auto& fit = model.fit();
    rusage usage{};
    getrusage(RUSAGE_SELF, &usage);
    std::printf("growers %d, bundles %zu, bales %zu, sites %d, visitors %.1f %%\n", growers, season.bundles.size(),
                season.bales.size(), sites, visitors);
    std::printf("mu %.6f sd %.6f %.6f %.6f reml %.4f (+- %.3f)%s, %d evaluations\n", fit.mu, fit.sd_grower, fit.sd_site,
                fit.sd_bundle, fit.reml, fit.reml_error, fit.approximate ? " approximate" : "", fit.evaluations);
    double ratios = 0.0;
    double widths = 0.0;
    for (const auto& grower : report.growers) {
        ratios += grower.to_claim ? grower.to_claim->ratio : 0.0;
        widths += grower.to_claim ? grower.to_claim->high - grower.to_claim->low : 0.0;
    }
    std::printf("growers' ratios together %.4f, widths of their intervals %.4f\n", ratios, widths);
    std::printf("called %d, groups %zu; on hand %.0f [%.0f, %.0f]\n", report.called, report.groups.size(),
                total.on_hand_expected, total.on_hand_low, total.on_hand_high);
    const auto of_clock = [](const timeval& of) {
        return static_cast<double>(of.tv_sec) + 1e-6 * static_cast<double>(of.tv_usec);
    };
    std::printf("fit and posterior %.2f s, growers' intervals and calls %.2f s, total %.2f s, "
                "processors %.2f s, memory %.2f GB\n",
                fit_seconds, report_seconds, total_seconds, of_clock(usage.ru_utime) + of_clock(usage.ru_stime),
                static_cast<double>(usage.ru_maxrss) / 1048576.0);
    return 0;
}
