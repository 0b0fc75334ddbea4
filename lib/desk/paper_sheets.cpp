// What is ticked on a site, on a truck and at the baler, and what is to be fetched.
#include "desk/next_id.hpp"
#include "desk/paper_rows.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace tarewell::desk {
namespace {

using namespace records; // NOLINT

constexpr std::size_t usual_blanks = 6, usual_bales = 4, most_bales = 6;

value rows_of(const season_view& seen, const std::vector<bundle_place>& bundles) {
    auto rows = value::array();
    for (const auto place : bundles)
        rows.push_back(bundle_fields(seen, place));
    return rows;
}

quantity::weight claimed(const season_view& seen, const std::vector<bundle_place>& bundles) {
    quantity::weight sum;
    for (const auto place : bundles)
        sum += seen.reckoning.at(place).claim.estimate;
    return sum;
}

/// By bundle: "held since 2026-05-04: wet", so that its host knows it again; empty where it never was.
std::vector<std::string> held_since(const season_view& seen, day on) {
    std::vector<std::string> texts(seen.season.bundles.size());
    for (const auto& each : seen.season.receipts)
        if (each.outcome == outcome::held && each.date <= on)
            texts[each.bundle.index()] = fmt::format("held since {}{}{}", quantity::text_of(each.date),
                                                     each.reason.empty() ? "" : ": ", each.reason);
    return texts;
}

records::input_error nothing(const char* what, const paper_wanted& wanted, const char* where) {
    return records::input_error(wanted.site.empty() ? fmt::format("{} {} any site", what, where)
                                                    : fmt::format("{} {} site {}", what, where, wanted.site));
}

} // namespace

paper check_in_sheet(const season_view& seen, const paper_wanted& wanted) {
    paper made{"check_in", "Check-in sheet", {}, {"site", "bundle", "label", "outcome", "reason", "received_by"}};
    const auto held = held_since(seen, wanted.on);
    for (const auto& site : sites_wanted(seen, wanted)) {
        const auto expected = expected_at(seen, seen.season.find_site(site.id), wanted.on);
        if (expected.empty() && wanted.site.empty()) continue;
        auto page = site_fields(seen, site);
        auto rows = value::array();
        for (const auto place : expected) {
            auto row = bundle_fields(seen, place);
            row["held"] = held[place.index()];
            rows.push_back(std::move(row));
        }
        page["expected"] = counted(expected.size(), "bundle", "bundles");
        put_rows(page, "rows", std::move(rows));
        put_rows(page, "blanks", lines_to_write_on(wanted.blank_rows.value_or(usual_blanks)));
        made.pages.push_back(std::move(page));
    }
    if (made.pages.empty()) throw nothing("no bundle is expected", wanted, "at");
    return made;
}

paper haul_sheet(const season_view& seen, const paper_wanted& wanted) {
    paper made{"haul", "Haul sheet", {}, {"haul", "from", "to", "bundle", "label", "driver"}};
    auto haul = next_id(seen.file, kind::haul, "H001");
    for (const auto& site : sites_wanted(seen, wanted)) {
        const auto lying = lying_at(seen, site);
        if (lying.empty() || site.id == wanted.to) continue;
        auto page = site_fields(seen, site);
        page["haul"] = haul;
        page["from"] = page["site"];
        page["to"] = wanted.to.empty() ? value{} : value{wanted.to};
        page["to_name"] = wanted.to.empty() ? value{} : value{seen.season.at(seen.season.find_site(wanted.to)).name};
        page["weight"] = about(seen, claimed(seen, lying));
        page["count"] = counted(lying.size(), "bundle", "bundles");
        put_rows(page, "rows", rows_of(seen, lying));
        put_rows(page, "blanks", lines_to_write_on(wanted.blank_rows.value_or(2)));
        made.pages.push_back(std::move(page));
        haul = id_after({haul}, haul);
    }
    if (made.pages.empty()) throw nothing("no bundle waits for a haul", wanted, "on");
    return made;
}

paper baler_sheet(const season_view& seen, const paper_wanted& wanted) {
    const auto bales = std::clamp<std::size_t>(wanted.next_bales.value_or(usual_bales), 1, most_bales);
    auto ids = next_bale_ids(seen, bales);
    paper made{"baler", "Baler sheet", {}, {"bale", "date", "site", "bundle", "label"}};
    for (const auto& site : sites_wanted(seen, wanted)) {
        const auto lying = lying_at(seen, site);
        if ((!site.presses && wanted.site.empty()) || lying.empty()) continue;
        auto page = site_fields(seen, site);
        auto boxes = value::array();
        for (const auto& id : ids)
            boxes.push_back({{"bale", id}});
        page["bales"] = std::move(boxes);
        page["weight"] = about(seen, claimed(seen, lying));
        page["count"] = counted(lying.size(), "bundle", "bundles");
        put_rows(page, "rows", rows_of(seen, lying));
        put_rows(page, "blanks", lines_to_write_on(wanted.blank_rows.value_or(3)));
        made.pages.push_back(std::move(page));
        for (auto last = ids.back(); auto& id : ids) // another site's bales have other numbers
            id = last = id_after({last}, last);
    }
    if (made.pages.empty()) throw nothing("no bundle waits for the baler", wanted, "on");
    return made;
}

paper pick_up_list(const season_view& seen, const paper_wanted& wanted) {
    std::vector<std::pair<double, value>> found;
    for (const auto& here : sites_wanted(seen, wanted)) {
        if (here.unweighed + here.bales.size() == 0) continue;
        const auto full = here.full_on(wanted.on);
        auto row = site_fields(seen, here);
        row["id"] = here.id;
        row["bundles"] = std::to_string(here.waiting.size());
        row["bales"] = std::to_string(here.bales.size());
        row["weight"] = about(seen, here.weight());
        row["full"] = here.capacity ? value{fmt::format("{:.0f} %", 100 * here.share())} : value{};
        row["full_on"] = full;
        found.emplace_back(here.share(), std::move(row));
    }
    std::stable_sort(found.begin(), found.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
    auto rows = value::array();
    for (auto& [share, row] : found)
        rows.push_back(std::move(row));
    if (rows.empty()) throw nothing("nothing waits to be fetched", wanted, "on");
    return {"pick_up",
            "Pick-up list",
            {value{{"rows", std::move(rows)}}},
            {"site", "site_name", "town", "host", "site_contact", "hours", "bundles", "bales", "weight", "capacity",
             "full"}};
}

std::vector<std::map<std::string, std::string>> rows_to_enter(const season_view& seen, kind which,
                                                              const paper_wanted& wanted) {
    std::vector<std::map<std::string, std::string>> rows;
    const auto& of = seen.season;
    const auto site = wanted.site.empty() ? site_place{} : of.find_site(wanted.site);
    if (which == kind::receipt && site)
        for (const auto place : expected_at(seen, site, wanted.on))
            rows.push_back({{"site", wanted.site}, {"bundle", of.at(place).id.text()}});
    if (which == kind::ticket)
        for (const auto place : not_weighed(seen, site, wanted.on))
            rows.push_back({{"weighs", "bale"}, {"subject", of.at(place).id.text()}});
    if (which == kind::haul && site)
        for (const auto& here : sites_wanted(seen, wanted)) {
            std::string bundles;
            for (const auto place : lying_at(seen, here))
                bundles += (bundles.empty() ? "" : " ") + of.at(place).id.text();
            if (!bundles.empty()) rows.push_back({{"from", wanted.site}, {"bundle", bundles}});
        }
    return rows;
}

} // namespace tarewell::desk
