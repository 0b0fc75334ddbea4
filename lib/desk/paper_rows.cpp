#include "desk/paper_rows.hpp"

#include "quantity/decimal.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <numeric>
#include <tuple>

namespace tarewell::desk {

using namespace records; // NOLINT

std::size_t paper::rows() const {
    return std::accumulate(pages.begin(), pages.end(), std::size_t{},
                           [](std::size_t sum, const value& page) { return sum + page.find("rows")->list()->size(); });
}

std::string name_on_paper(const grower& of) {
    if (of.id.text() == unknown_grower) return "no label";
    return of.name.empty() ? "grower " + of.id.text() : of.name;
}

std::string label_of(const season& of, bundle_place bundle) {
    const auto& each = of.at(bundle);
    return fmt::format("{}, {} of {}", name_on_paper(of.at(of.at(each.registration).grower)), each.number, each.of);
}

void sort_for_paper(const season& of, std::vector<bundle_place>& bundles) {
    const auto key = [&](bundle_place place) {
        const auto& bundle = of.at(place);
        const auto& registration = of.at(bundle.registration);
        return std::tuple{name_on_paper(of.at(registration.grower)), registration.id.text(), bundle.number};
    };
    std::sort(bundles.begin(), bundles.end(), [&](auto a, auto b) { return key(a) < key(b); });
}

std::vector<bundle_place> expected_at(const season_view& seen, site_place site, day on) {
    const auto& of = seen.season;
    std::vector<const receipt*> last(of.bundles.size());
    for (const auto& each : of.receipts) {
        if (each.date > on) continue;
        auto& known = last[each.bundle.index()];
        if (known == nullptr || each.date >= known->date) known = &each;
    }
    std::vector<bundle_place> expected;
    for (std::size_t i = 0; i < last.size(); ++i) {
        const auto& registration = of.at(of.bundles[i].registration);
        const auto& known = seen.reckoning.bundles[i];
        const bool held = last[i] != nullptr && last[i]->outcome == outcome::held;
        if (registration.site != site || registration.date > on || known.bale) continue;
        if (held || (last[i] == nullptr && known.rejections.empty())) expected.emplace_back(i);
    }
    sort_for_paper(of, expected);
    return expected;
}

std::vector<bundle_place> lying_at(const season_view& seen, const site_stock& here) {
    std::vector<bundle_place> lying;
    for (const auto& each : here.waiting)
        lying.push_back(each.bundle);
    sort_for_paper(seen.season, lying);
    return lying;
}

std::vector<bale_place> not_weighed(const season_view& seen, site_place site, day on) {
    std::vector<bale_place> bales;
    for (std::size_t i = 0; i < seen.season.bales.size(); ++i) {
        const auto& bale = seen.season.bales[i];
        const auto& known = seen.reckoning.bales[i];
        if (!known.weighed && !known.inside.empty() && bale.date <= on && (!site || bale.site == site))
            bales.emplace_back(i);
    }
    return bales;
}

value site_fields(const season_view& seen, const site_stock& of) {
    return {{"site", of.id},
            {"site_name", of.name},
            {"town", of.town},
            {"host", of.host},
            {"hours", of.opens.empty() || of.closes.empty() ? "" : fmt::format("{} to {}", of.opens, of.closes)},
            {"capacity", of.capacity ? about(seen, *of.capacity) : ""}};
}

value bundle_fields(const season_view& seen, bundle_place place) {
    const auto& bundle = seen.season.at(place);
    const auto& registration = seen.season.at(bundle.registration);
    const auto name = name_on_paper(seen.season.at(registration.grower));
    return {{"id", bundle.id.text()},
            {"bundle", bundle.id.text()},
            {"label", label_of(seen.season, place)},
            {"name", name},
            {"number", std::to_string(bundle.number)},
            {"of", std::to_string(bundle.of)},
            {"registration", registration.id.text()}};
}

std::vector<site_stock> sites_wanted(const season_view& seen, const paper_wanted& wanted) {
    auto sites = stock_of_sites(seen, wanted.on);
    if (!wanted.site.empty()) std::erase_if(sites, [&](const auto& each) { return each.id != wanted.site; });
    return sites;
}

value lines_to_write_on(std::size_t count) {
    auto lines = value::array();
    for (std::size_t i = 1; i <= count; ++i)
        lines.push_back({{"line", std::to_string(i)}});
    return lines;
}

std::string about(const season_view& seen, quantity::weight of) {
    return fmt::format("{} {}", whole_units(of), seen.unit());
}

void put_rows(value& to, const std::string& name, value rows) {
    const bool any = !rows.empty();
    to[name] = std::move(rows);
    to["any_" + name] = any;
}

} // namespace tarewell::desk
