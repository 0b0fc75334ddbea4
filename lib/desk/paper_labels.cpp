// Labels of bundles and tags of bales.
#include "desk/next_id.hpp"
#include "desk/paper_rows.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace tarewell::desk {
namespace {

using namespace records; // NOLINT

bool names(const std::vector<std::string>& ids, const std::string& id) {
    return std::find(ids.begin(), ids.end(), id) != ids.end();
}

/// Bundles whose registration or id is named, received or not; else those of grower and site that nobody has received
/// and that have no label yet.
std::vector<bundle_place> wanted_bundles(const season_view& seen, const paper_wanted& wanted) {
    const auto& of = seen.season;
    std::vector<bool> seen_at_site(of.bundles.size());
    for (const auto& each : of.receipts)
        seen_at_site[each.bundle.index()] = true;
    const bool by_name = !wanted.registrations.empty() || !wanted.bundles.empty();
    const auto grower = wanted.grower.empty() ? grower_place{} : of.counts_as(of.find_grower(wanted.grower));
    std::vector<bundle_place> found;
    for (std::size_t i = 0; i < of.bundles.size(); ++i) {
        const auto& bundle = of.bundles[i];
        const auto& registration = of.at(bundle.registration);
        if (grower && registration.grower != grower) continue;
        if (!wanted.site.empty() && of.at(registration.site).id.text() != wanted.site) continue;
        const bool take =
            by_name ? names(wanted.registrations, registration.id.text()) || names(wanted.bundles, bundle.id.text())
                    : !seen_at_site[i] && !seen.reckoning.bundles[i].bale &&
                          !wanted.printed_before.contains(bundle.id.text());
        if (take) found.emplace_back(i);
    }
    return found;
}

value tag(const season_view& seen, const std::string& id, site_place site) {
    value row{{"id", id}, {"bale", id}, {"date", nullptr}, {"bundles", nullptr}};
    row["site"] = site ? value{seen.season.at(site).id.text()} : value{};
    row["site_name"] = site ? value{seen.season.at(site).name} : value{};
    return row;
}

} // namespace

paper bundle_labels(const season_view& seen, const paper_wanted& wanted) {
    auto rows = value::array();
    for (const auto place : wanted_bundles(seen, wanted)) {
        auto row = bundle_fields(seen, place);
        const auto& site = seen.season.at(seen.season.at(seen.season.at(place).registration).site);
        row["site"] = site.id.text();
        row["site_name"] = site.name;
        rows.push_back(std::move(row));
    }
    if (rows.empty())
        throw records::input_error(
            "no label is waiting to be printed: each bundle was received or has its label; print "
            "one again with --again, --registration or --bundle");
    return {"labels",
            "Bundle labels",
            {value{{"rows", std::move(rows)}}},
            {"bundle", "label", "name", "number", "of", "registration", "site", "site_name"}};
}

paper bale_tags(const season_view& seen, const paper_wanted& wanted) {
    const auto& of = seen.season;
    const auto site = wanted.site.empty() ? site_place{} : of.find_site(wanted.site);
    auto rows = value::array();
    const auto add = [&](bale_place place) {
        const auto& bale = of.at(place);
        auto row = tag(seen, bale.id.text(), bale.site);
        row["date"] = bale.date;
        row["bundles"] = std::to_string(seen.reckoning.at(place).inside.size());
        rows.push_back(std::move(row));
    };
    for (const auto& id : wanted.bales)
        add(of.find_bale(id));
    if (wanted.bales.empty() && !wanted.next_bales)
        for (const auto place : not_weighed(seen, site, wanted.on))
            add(place);
    for (const auto& id : next_bale_ids(seen, wanted.next_bales.value_or(0)))
        rows.push_back(tag(seen, id, site));
    if (rows.empty())
        throw records::input_error(
            "every bale is weighed; --next N prints tags for the next bales, --bale ID one again");
    return {
        "bale_tags", "Bale tags", {value{{"rows", std::move(rows)}}}, {"bale", "date", "site", "site_name", "bundles"}};
}

std::vector<std::string> next_bale_ids(const season_view& seen, std::size_t count) {
    std::vector<std::string> ids;
    for (std::size_t i = 0; i < count; ++i)
        ids.push_back(ids.empty() ? next_id(seen.file, kind::bale, "B001") : id_after({ids.back()}, "B001"));
    return ids;
}

} // namespace tarewell::desk
