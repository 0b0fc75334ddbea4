#include "days.hpp"
#include "desk/places.hpp"
#include "names.hpp"

namespace tarewell::cli {
namespace {

struct sites_options {
    std::string site, on;
};

void run_sites(const sites_options& how, context& with) {
    const auto on = day_or_today(how.on, with);
    const desk::season_view seen{with.open()};
    if (how.site.empty()) return with.print(desk::sites(seen, on));
    with.print(desk::site_in_full(seen, id_meant(seen.file, records::kind::site, how.site, with), on));
}

} // namespace

void add_sites(const command& program, context& with) {
    auto sub =
        program.add("sites", "what lies at each site, against its capacity, and when it is full; with a site: its "
                             "bundles, what is held, its bales and their shipments");
    auto& how = program.keep<sites_options>();
    sub.value("SITE", how.site, "a site's id or name; holds growers' names, so keep it in the office");
    sub.value("--on", how.on, "the day to look from (today)");
    sub.flag("--json", with.json, "JSON output");
    sub.does([&how, &with] { run_sites(how, with); });
}

} // namespace tarewell::cli
