// Film and paper that are still to come.
#include "desk/due_groups.hpp"
#include "desk/next_id.hpp"
#include "desk/places.hpp"
#include "reconcile/flags.hpp"

#include <algorithm>
#include <map>
#include <set>

namespace tarewell::desk {
namespace {

using namespace records; // NOLINT
using quantity::text_of;

/// "Hesper Quillan (G001), 555-0101", or the id where details were erased.
std::string person(const grower& of) {
    const auto& reach = of.phone.empty() ? of.email : of.phone;
    if (of.name.empty()) return "grower " + of.id.text();
    return fmt::format("{} ({}){}", of.name, of.id.text(), reach.empty() ? "" : ", " + reach);
}

void put_person(value& to, const grower& of) {
    to["grower"] = of.id.text();
    to["name"] = of.name;
    to["phone"] = of.phone;
    to["email"] = of.email;
}

std::string scale_for(const season_view& seen) {
    return seen.season.scales.empty() ? "SCALE" : seen.season.scales.front().id.text();
}

/// Bundles without any receipt that no bale holds, by registration.
std::map<std::size_t, std::vector<bundle_place>> still_out(const season_view& seen, day on) {
    std::vector<bool> seen_at_site(seen.season.bundles.size());
    for (const auto& each : seen.season.receipts)
        seen_at_site[each.bundle.index()] = true;
    std::map<std::size_t, std::vector<bundle_place>> out;
    for (std::size_t i = 0; i < seen_at_site.size(); ++i)
        if (!seen_at_site[i] && !seen.reckoning.bundles[i].bale &&
            seen.season.at(seen.season.bundles[i].registration).date <= on)
            out[seen.season.bundles[i].registration.index()].push_back(bundle_place{i});
    return out;
}

} // namespace

due_group bundles_not_received(const season_view& seen, day on) {
    due_group group{"late_bundles", "Bundles registered and not received", {}};
    std::vector<std::pair<std::int64_t, due_item>> found;
    const auto receipt = next_id(seen.file, kind::receipt, "RC0001");
    for (const auto& [place, bundles] : still_out(seen, on)) {
        const auto& from = seen.season.registrations[place];
        const auto& who = seen.season.at(from.grower);
        const auto allowed = std::stoll(seen.season.setting_on("handing_in_days", from.date));
        const auto late = (on - from.date).count() - allowed;
        value data{{"registration", from.id.text()},
                   {"site", seen.season.at(from.site).id.text()},
                   {"registered", from.date},
                   {"days_late", late},
                   {"late", late > 0}};
        put_person(data, who);
        auto& ids = data["bundles"] = value::array();
        for (const auto each : bundles)
            ids.push_back(seen.season.at(each).id.text());
        found.emplace_back(
            late,
            due_item{
                fmt::format("{}: {} of {} for {}, registered {}, {}.", person(who),
                            counted(bundles.size(), "bundle", "bundles"), from.id.text(),
                            seen.season.at(from.site).id.text(), text_of(from.date),
                            late > 0 ? days_in_words(late) + " late"
                                     : "expected by " + text_of(from.date + date::days{allowed})),
                fmt::format("tarewell record receipt --receipt {} --date {} --site {} --bundle {} --outcome accepted",
                            receipt, text_of(on), seen.season.at(from.site).id.text(),
                            seen.season.at(bundles.front()).id.text()),
                std::move(data), late > 0});
    }
    std::stable_sort(found.begin(), found.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
    for (auto& [late, item] : found)
        group.items.push_back(std::move(item));
    return group;
}

due_group bales_not_weighed(const season_view& seen, day on) {
    due_group group{"bales", "Bales not weighed", {}};
    const auto ticket = next_id(seen.file, kind::ticket, "T0001");
    for (std::size_t i = 0; i < seen.season.bales.size(); ++i) {
        const auto& bale = seen.season.bales[i];
        const auto& of = seen.reckoning.bales[i];
        if (of.weighed || of.inside.empty() || bale.date > on) continue;
        group.items.push_back(
            {fmt::format("Bale {}, pressed {} at {}, {}, claims {}.", bale.id.text(), text_of(bale.date),
                         seen.season.at(bale.site).id.text(), counted(of.inside.size(), "bundle", "bundles"),
                         weight_in_words(seen, of.estimate)),
             fmt::format("tarewell record ticket --ticket {} --date {} --scale {} --weighs bale --subject {} --net NET "
                         "--unit {} --entry printed",
                         ticket, text_of(on), scale_for(seen), bale.id.text(), seen.unit()),
             {{"bale", bale.id.text()},
              {"site", seen.season.at(bale.site).id.text()},
              {"pressed", bale.date},
              {"claim", of.estimate}}});
    }
    return group;
}

due_group loads_not_accepted(const season_view& seen, day on) {
    due_group group{"loads", "Loads that no processor has accepted", {}};
    for (const auto& each : seen.season.shipments) {
        if (each.accepted_on || each.date > on) continue;
        group.items.push_back(
            {fmt::format("Shipment {} of {} to {}, {}, {} under way.", each.id.text(), text_of(each.date),
                         each.processor, counted(each.bales.size(), "bale", "bales"),
                         days_in_words((on - each.date).count())),
             fmt::format("tarewell settle {} --date DATE --received WEIGHT --rejected WEIGHT --price PRICE",
                         each.id.text()),
             {{"shipment", each.id.text()}, {"date", each.date}, {"processor", each.processor}}});
    }
    return group;
}

due_group papers_missing(const season_view& seen) {
    due_group group{"papers", "Records that name no paper and have none attached", {}};
    std::set<std::string> attached;
    for (const auto& each : seen.season.documents)
        attached.insert(each.record);
    for (const auto which : {kind::cost, kind::ticket, kind::acceptance, kind::reject})
        seen.file.for_each(which, seen.as_of, [&](const ledger::stored_row& stored) {
            const auto key = key_for_people(stored.values);
            const auto record = fmt::format("{} {}", info(which).name, key);
            if (!stored.values["document"].empty() || attached.contains(record)) return;
            group.items.push_back({fmt::format("{} of {}.", record, stored.values["date"]),
                                   fmt::format("tarewell document attach {} {} FILE", info(which).name, key),
                                   {{"kind", info(which).name}, {"key", key}, {"date", stored.values["date"]}}});
        });
    return group;
}

due_group sites_near_capacity(const season_view& seen, day on) {
    constexpr double near = 0.8;
    constexpr date::days days_ahead{7};
    due_group group{"sites", "Sites near their capacity", {}};
    const auto haul = next_id(seen.file, kind::haul, "H001");
    for (const auto& each : stock_of_sites(seen, on)) {
        const auto full = each.full_on(on);
        if (each.share() < near && (!full || *full - on > days_ahead)) continue;
        const auto when = !full         ? std::string{}
                          : *full == on ? "; it is full"
                                        : fmt::format("; full by {} at the present pace", text_of(*full));
        group.items.push_back(
            {fmt::format("{} ({}): about {} of {} on hand, {:.0f} %{}.", each.name, each.id,
                         weight_in_words(seen, each.weight()), weight_in_words(seen, *each.capacity),
                         100 * each.share(), when),
             fmt::format("tarewell record haul --haul {} --date {} --from {} --to SITE --bundle BUNDLE", haul,
                         text_of(on), each.id),
             {{"site", each.id},
              {"on_hand", each.weight()},
              {"capacity", *each.capacity},
              {"share", each.share()},
              {"full_on", full ? value{*full} : value{}}}});
    }
    std::stable_sort(group.items.begin(), group.items.end(), [](const auto& a, const auto& b) {
        return a.data.find("share")->json() > b.data.find("share")->json();
    });
    return group;
}

due_group registrations_without_sizes(const season_view& seen) {
    due_group group{"sizes", "Registrations that claim by the count of bundles alone", {}};
    for (const auto& flag : reconcile::flags_of_paper(seen.season, seen.reckoning)) {
        if (flag.code != "claimed-by-count") continue;
        const auto& each = seen.season.at(seen.season.find_registration(flag.subject));
        const auto& who = seen.season.at(each.grower);
        value data{{"registration", flag.subject}, {"registered", each.date}};
        put_person(data, who);
        group.items.push_back(
            {fmt::format("{}: {} of {}, {}.", person(who), flag.subject, text_of(each.date),
                         counted(each.bundles.size(), "bundle", "bundles")),
             fmt::format("tarewell register --sizes {} --cover LENGTHxWIDTH --layers LAYERS --why TEXT", flag.subject),
             std::move(data)});
    }
    return group;
}

} // namespace tarewell::desk
