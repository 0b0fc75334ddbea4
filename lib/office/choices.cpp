#include "office/choices.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace tarewell::office {
namespace {

using desk::value;
using records::kind;
using records::season;

constexpr std::size_t most = 300;

struct choice {
    std::string id, name;
    bool likely = true;
    std::string unit = {}; ///< of a scale
};

/// The latest first, the likely ones before the others.
value listed(std::vector<choice> all) {
    std::reverse(all.begin(), all.end());
    std::stable_partition(all.begin(), all.end(), [](const auto& each) { return each.likely; });
    if (all.size() > most) all.resize(most);
    auto choices = value::array();
    for (auto& each : all)
        choices.push_back({{"id", std::move(each.id)},
                           {"name", std::move(each.name)},
                           {"unit", each.unit.empty() ? value{} : value{each.unit}}});
    return choices;
}

std::string grower_named(const season& of, records::registration_place registration) {
    const auto& grower = of.at(of.at(registration).grower);
    return grower.name.empty() ? grower.id.text() : grower.name;
}

std::vector<choice> bundles(const desk::season_view& seen) {
    std::vector<choice> made;
    for (std::size_t i = 0; i < seen.season.bundles.size(); ++i) {
        const auto& each = seen.season.bundles[i];
        made.push_back({each.id.text(),
                        fmt::format("{} of {}, {}", each.number, each.of, grower_named(seen.season, each.registration)),
                        !seen.reckoning.bundles[i].accepting_receipt || !seen.reckoning.bundles[i].bale});
    }
    return made;
}

std::vector<choice> bales(const desk::season_view& seen) {
    std::vector<choice> made;
    for (std::size_t i = 0; i < seen.season.bales.size(); ++i) {
        const auto& each = seen.season.bales[i];
        const bool weighed = seen.reckoning.bales[i].weighed.has_value();
        made.push_back({each.id.text(),
                        fmt::format("{}, {} bundles, {}", seen.season.at(each.site).name,
                                    seen.reckoning.bales[i].inside.size(), weighed ? "weighed" : "not weighed"),
                        !weighed});
    }
    return made;
}

std::vector<choice> choices_of(const desk::season_view& seen, kind which) {
    const auto& of = seen.season;
    std::vector<choice> made;
    const auto add = [&](const auto& records, auto name) {
        for (const auto& each : records)
            made.push_back({each.id.text(), name(each)});
    };
    switch (which) {
    case kind::site:
        add(of.sites, [](const auto& each) { return each.name; });
        break;
    case kind::grower:
        add(of.growers, [](const auto& each) { return each.name; });
        break;
    case kind::scale:
        for (const auto& each : of.scales)
            made.push_back({each.id.text(), each.location, true, std::string{quantity::name_of(each.unit)}});
        break;
    case kind::cover:
        add(of.registrations, [&](const auto& each) {
            const auto& grower = of.at(each.grower);
            return fmt::format("{}, {}", grower.name, quantity::text_of(each.date));
        });
        break;
    case kind::shipment:
        add(of.shipments, [](const auto& each) { return each.processor; });
        break;
    case kind::bundle:
        return bundles(seen);
    case kind::bale:
        return bales(seen);
    case kind::cost:
        for (const auto& each : of.costs)
            made.push_back({each.id, each.description});
        break;
    default:
        break;
    }
    return made;
}

} // namespace

std::string list_name(const records::column& of) {
    return of.names ? fmt::format("list-{}", records::info(*of.names).name) : fmt::format("list-any-{}", of.name);
}

value choices_for(const desk::season_view& seen, const records::kind_info& of) {
    auto lists = value::array();
    std::vector<std::string> done;
    for (const auto& column : of.columns) {
        if (!column.names && column.names_by == nullptr) continue;
        const auto name = list_name(column);
        if (std::find(done.begin(), done.end(), name) != done.end()) continue;
        done.push_back(name);
        // What a ticket weighs is a bale, most of the time.
        lists.push_back({{"list", name}, {"choices", listed(choices_of(seen, column.names.value_or(kind::bale)))}});
    }
    return lists;
}

} // namespace tarewell::office
