#include "desk/paper_rows.hpp"
#include "desk/places.hpp"
#include "office/views.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace tarewell::office {
namespace {

using quantity::day;

value text_or_none(const std::string& text) { return text.empty() ? value{} : value{text}; }

/// The day asked for, or the clock's. Throws records::input_error for what is no day.
day day_asked(const state& of, const call& from) {
    const auto text = from.query.text("on");
    if (text.empty()) return quantity::day_of(of.around.now().substr(0, 10));
    if (const auto on = quantity::read_day(text)) return *on;
    throw records::input_error(fmt::format("'{}' is no day; write it as 2026-10-03", text));
}

/// A list's fields, {"NAME","any_NAME","NAME_count"}.
void put_counted(value& to, const std::string& name, value list) {
    to[name + "_count"] = list.list()->size();
    put_list(to, name, std::move(list));
}

value bundles_of(const desk::season_view& seen, const std::vector<desk::lying_bundle>& lying) {
    auto bundles = value::array();
    for (const auto& each : lying) {
        const auto& id = seen.season.at(each.bundle).id.text();
        bundles.push_back({{"id", id},
                           {"link", record_link("bundle", id)},
                           {"label", desk::label_of(seen.season, each.bundle)},
                           {"since", quantity::text_of(each.since)},
                           {"claimed", desk::whole_units(seen.reckoning.at(each.bundle).claim.estimate)},
                           {"reason", text_or_none(each.reason)}});
    }
    return bundles;
}

value bales_of(const desk::season_view& seen, const desk::site_stock& here) {
    auto bales = value::array();
    for (const auto& each : here.bales) {
        const auto& bale = seen.season.at(each.bale);
        value row{{"id", bale.id.text()},
                  {"link", record_link("bale", bale.id.text())},
                  {"pressed", quantity::text_of(bale.date)},
                  {"bundles", seen.reckoning.at(each.bale).inside.size()},
                  {"net", each.net ? value{desk::whole_units(*each.net)} : value{}},
                  {"shipment", nullptr}};
        if (each.to_be_shipped) {
            const auto& shipment = seen.season.at(each.to_be_shipped);
            row["shipment"] = shipment.id.text();
            row["shipment_link"] = record_link("shipment", shipment.id.text());
            row["shipped"] = quantity::text_of(shipment.date);
            row["processor"] = shipment.processor;
        }
        bales.push_back(std::move(row));
    }
    return bales;
}

value haul_of(const desk::site_stock& here) {
    if (here.presses || here.waiting.empty()) return nullptr;
    return fmt::format("{} since {}", here.waiting.size(), quantity::text_of(*here.oldest()));
}

} // namespace

value site_for_page(const desk::site_stock& of, day on, const std::string& unit) {
    return {{"id", of.id},
            {"name", of.name},
            {"link", fmt::format("/sites?site={}&on={}", in_query(of.id), quantity::text_of(on))},
            {"bundles", of.unweighed},
            {"held", of.held.size()},
            {"bales", of.bales.size()},
            {"weight", desk::whole_units(of.weight())},
            {"capacity", of.capacity ? value{desk::whole_units(*of.capacity)} : value{}},
            {"percent", of.capacity ? value{fmt::format("{:.0f}", 100 * of.share())} : value{}},
            {"full_by", of.full_by(on)},
            {"full_on", of.full_on(on) ? value{of.full_by(on)} : value{}},
            {"why", of.why_full_by(on, unit)},
            {"haul", haul_of(of)}};
}

response show_sites(state& of, const call& from) {
    const auto& seen = of.kept.season();
    const auto on = day_asked(of, from);
    const auto unit = seen.season.the_award ? seen.unit() : std::string{"lb"};
    const auto stock = seen.season.the_award ? desk::stock_of_sites(seen, on) : std::vector<desk::site_stock>{};
    value data{{"on", quantity::text_of(on)}, {"unit", unit}};
    if (!from.query.has("site")) {
        auto sites = value::array();
        for (const auto& each : stock)
            sites.push_back(site_for_page(each, on, unit));
        put_list(data, "sites", std::move(sites));
        data["pace_days"] = desk::pace_days;
        return page(of, "sites", "Sites", std::move(data));
    }
    const auto id = from.query.text("site");
    const auto here = std::find_if(stock.begin(), stock.end(), [&](const auto& each) { return each.id == id; });
    if (here == stock.end())
        throw records::input_error(fmt::format("no site '{}' is recorded; Sites shows all there are", id));
    data["site"] = site_for_page(*here, on, unit);
    data["site"]["record"] = record_link("site", here->id);
    data["site"]["town"] = text_or_none(here->town);
    data["site"]["host"] = text_or_none(here->host);
    data["site"]["hours"] =
        here->opens.empty() || here->closes.empty() ? value{} : value{here->opens + " to " + here->closes};
    data["site"]["presses"] = here->presses;
    put_counted(data, "waiting", bundles_of(seen, here->waiting));
    put_counted(data, "held", bundles_of(seen, here->held));
    put_counted(data, "bales", bales_of(seen, *here));
    return page(of, "site", fmt::format("{} ({})", here->name, here->id), std::move(data));
}

} // namespace tarewell::office
