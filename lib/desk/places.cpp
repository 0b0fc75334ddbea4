#include "desk/places.hpp"

#include <algorithm>
#include <cmath>

namespace tarewell::desk {
namespace {

using namespace records; // NOLINT
using quantity::day;
using quantity::weight;

struct lying {
    site_place at;
    day since;
};

/// Where each bundle lies on a day: where it was accepted, or the last haul took it since.
std::vector<lying> whereabouts(const season_view& seen, day on) {
    std::vector<lying> found(seen.season.bundles.size());
    for (std::size_t i = 0; i < found.size(); ++i)
        if (const auto accepted = seen.reckoning.bundles[i].accepting_receipt) {
            const auto& receipt = seen.season.receipts[*accepted];
            if (receipt.date <= on) found[i] = {receipt.site, receipt.date};
        }
    for (const auto& each : seen.season.hauls) {
        auto& of = found[each.bundle.index()];
        if (each.date <= on && of.at && each.date >= of.since) of = {each.to, each.date};
    }
    return found;
}

bool is_rejected(const season_view& seen, std::size_t bundle, day on) {
    const auto& of = seen.reckoning.bundles[bundle];
    const auto accepted = seen.season.receipts[*of.accepting_receipt].date;
    return std::any_of(of.rejections.begin(), of.rejections.end(),
                       [&](const auto& each) { return each.on >= accepted && each.on <= on; });
}

bool is_weighed(const reconcile::bale_outcome& bale, day on) { return bale.weighed && bale.weighed->on <= on; }

/// Sites as they are defined, with what the season does not keep of them.
std::vector<site_stock> empty_sites(const season_view& seen) {
    const auto& of = seen.season;
    std::vector<site_stock> stock(of.sites.size());
    for (std::size_t i = 0; i < stock.size(); ++i) {
        const auto& each = of.sites[i];
        stock[i].id = each.id.text(), stock[i].name = each.name, stock[i].town = each.town, stock[i].host = each.host;
    }
    seen.file.for_each(kind::site, seen.as_of, [&](const ledger::stored_row& stored) {
        const auto place = of.find_site(stored.values["site"]);
        if (!place) return;
        auto& here = stock[place.index()];
        here.opens = stored.values["opens"], here.closes = stored.values["closes"];
        if (!stored.values["capacity_lb"].empty())
            here.capacity =
                quantity::weight_from(quantity::decimal_of(stored.values["capacity_lb"]), quantity::weight_unit::lb,
                                      of.the_award ? of.the_award->unit : quantity::weight_unit::lb);
    });
    return stock;
}

void put_bundles(const season_view& seen, day on, std::vector<site_stock>& stock) {
    const auto& of = seen.season;
    const auto at = whereabouts(seen, on);
    for (std::size_t i = 0; i < at.size(); ++i) {
        const auto& bundle = seen.reckoning.bundles[i];
        if (!at[i].at || is_rejected(seen, i, on)) continue;
        const bool pressed = bundle.in_bale() && of.at(bundle.bale).date <= on;
        if (pressed && is_weighed(seen.reckoning.at(bundle.bale), on)) continue; // counted as a bale
        if (pressed && seen.reckoning.at(bundle.bale).shipment &&
            of.at(seen.reckoning.at(bundle.bale).shipment).date <= on)
            continue; // shipped before it was weighed
        auto& here = stock[(pressed ? of.at(bundle.bale).site : at[i].at).index()];
        ++here.unweighed;
        here.claimed += bundle.claim.estimate;
        if (!pressed) here.waiting.push_back({bundle_place{i}, at[i].since, {}});
    }
}

/// What came in the last days, whether it was taken on since or not.
void put_arrivals(const season_view& seen, day on, std::vector<site_stock>& stock) {
    const auto add = [&](site_place site, day date, bundle_place bundle) {
        if (date <= on && on - date < date::days{pace_days})
            stock[site.index()].arrived += seen.reckoning.at(bundle).claim.estimate;
    };
    for (std::size_t i = 0; i < seen.reckoning.bundles.size(); ++i)
        if (const auto accepted = seen.reckoning.bundles[i].accepting_receipt)
            add(seen.season.receipts[*accepted].site, seen.season.receipts[*accepted].date, bundle_place{i});
    for (const auto& each : seen.season.hauls)
        add(each.to, each.date, each.bundle);
}

/// Bundles whose latest receipt by the day holds them.
void put_held(const season_view& seen, day on, std::vector<site_stock>& stock) {
    std::vector<const receipt*> latest(seen.season.bundles.size());
    for (const auto& each : seen.season.receipts) {
        auto& of = latest[each.bundle.index()];
        if (each.date <= on && (of == nullptr || each.date >= of->date)) of = &each;
    }
    for (const auto* each : latest)
        if (each != nullptr && each->outcome == outcome::held)
            stock[each->site.index()].held.push_back({each->bundle, each->date, each->reason});
}

void put_bales(const season_view& seen, day on, std::vector<site_stock>& stock) {
    const auto& of = seen.season;
    for (std::size_t i = 0; i < of.bales.size(); ++i) {
        const auto& outcome = seen.reckoning.bales[i];
        auto& here = stock[of.bales[i].site.index()];
        if (of.bales[i].date > on) continue;
        here.presses = true;
        if (outcome.shipment && of.at(outcome.shipment).date <= on) continue;
        lying_bale made{bale_place{i}, {}, outcome.shipment};
        if (is_weighed(outcome, on)) {
            made.net = outcome.weighed->net;
            here.weighed += *made.net;
        }
        here.bales.push_back(made);
    }
}

constexpr int most_days_told = 180;

std::string span_of(const std::vector<lying_bundle>& bundles, std::optional<day> oldest) {
    return bundles.empty() ? std::string{} : fmt::format("{} since {}", bundles.size(), quantity::text_of(*oldest));
}

/// Claims as the scale is expected to find them.
value expected_value(weight claimed, std::optional<double> ratio) {
    if (!ratio) return {};
    return weight{std::llround(static_cast<double>(claimed.count()) * *ratio)};
}

value row_of(const site_stock& each, std::optional<double> ratio, day on, const std::string& unit) {
    const auto full = each.full_on(on);
    const auto oldest = each.oldest();
    return {{"site", each.id},
            {"name", each.name},
            {"town", each.town},
            {"host", each.host},
            {"opens", each.opens},
            {"closes", each.closes},
            {"bundles_waiting", each.waiting.size()},
            {"bundles_not_weighed", each.unweighed},
            {"claimed", each.claimed},
            {"expected", expected_value(each.claimed, ratio)},
            {"held", each.held.size()},
            {"bales", each.bales.size()},
            {"bales_net", each.weighed},
            {"capacity", each.capacity ? value{*each.capacity} : value{}},
            {"share", each.capacity ? value{each.share()} : value{}},
            {"full_on", full ? value{*full} : value{}},
            {"full_why", each.why_full_by(on, unit)},
            {"waits_for_haul", each.presses ? 0 : each.waiting.size()},
            {"oldest", oldest ? value{*oldest} : value{}}};
}

std::string words_for_ratio(const season_view& seen, std::optional<double> ratio) {
    if (!ratio) return "Expected: not known before the first bale is weighed.\n";
    return fmt::format("Expected: the claims times {:.2f}, what weighed bales weighed over what they claimed. Weights "
                       "in {}.\n",
                       *ratio, seen.unit());
}

} // namespace

double site_stock::share() const {
    return capacity && capacity->count() > 0 ? quantity::nearest_double(weight().count(), capacity->count()) : 0;
}

std::optional<day> site_stock::full_on(day on) const {
    if (!capacity) return std::nullopt;
    if (weight() >= *capacity) return on;
    if (arrived.count() <= 0) return std::nullopt;
    const auto left = static_cast<double>((*capacity - weight()).count());
    const auto days = std::ceil(left * pace_days / static_cast<double>(arrived.count()));
    if (days > most_days_told) return std::nullopt;
    return on + date::days{static_cast<int>(days)};
}

std::string site_stock::full_by(day on) const {
    if (const auto full = full_on(on)) return *full == on ? "now" : quantity::text_of(*full);
    if (!capacity) return "no capacity set";
    return arrived.count() <= 0 ? fmt::format("nothing came in {} days", pace_days)
                                : fmt::format("not in {} days", most_days_told);
}

std::string site_stock::why_full_by(day on, const std::string& unit) const {
    if (!capacity) return "No capacity is set for the site: correct it to set one, and the day is told.";
    const auto held_against =
        fmt::format("{} of {} {} are on hand", whole_units(weight()), whole_units(*capacity), unit);
    if (weight() >= *capacity) return held_against + ".";
    if (arrived.count() <= 0) return fmt::format("{}, and nothing came in the last {} days.", held_against, pace_days);
    const auto pace =
        fmt::format("{}, and {} {} came in the last {} days", held_against, whole_units(arrived), unit, pace_days);
    if (!full_on(on)) return fmt::format("{}: at that pace it is not full within {} days.", pace, most_days_told);
    return pace + ".";
}

std::string whole_units(weight of) {
    auto digits = std::to_string(quantity::half_up(of.count(), 1000));
    for (auto at = static_cast<std::ptrdiff_t>(digits.size()) - 3; at > 0; at -= 3)
        digits.insert(static_cast<std::size_t>(at), 1, ',');
    return digits;
}

std::optional<day> site_stock::oldest() const {
    const auto found = std::min_element(waiting.begin(), waiting.end(),
                                        [](const auto& a, const auto& b) { return a.since < b.since; });
    return found == waiting.end() ? std::nullopt : std::optional{found->since};
}

std::vector<site_stock> stock_of_sites(const season_view& seen, day on) {
    auto stock = empty_sites(seen);
    put_bundles(seen, on, stock);
    put_arrivals(seen, on, stock);
    put_held(seen, on, stock);
    put_bales(seen, on, stock);
    return stock;
}

std::optional<double> weighed_over_claimed(const season_view& seen, day on) {
    weight net, claimed;
    for (const auto& each : seen.reckoning.bales)
        if (is_weighed(each, on)) net += each.weighed->net, claimed += each.estimate;
    if (claimed.count() <= 0) return std::nullopt;
    return quantity::nearest_double(net.count(), claimed.count());
}

answer sites(const season_view& seen, day on) {
    const auto ratio = weighed_over_claimed(seen, on);
    table shown{{"site", "name", "bundles", "claimed", "expected", "held", "bales", "bales net", "capacity", "full",
                 "full by", "waits for a haul"}};
    answer made;
    auto rows = value::array();
    for (const auto& each : stock_of_sites(seen, on)) {
        auto row = row_of(each, ratio, on, seen.unit());
        shown.add(
            {each.id,
             each.name,
             each.unweighed,
             {whole_units(each.claimed), {}},
             {ratio ? whole_units(weight{std::llround(static_cast<double>(each.claimed.count()) * *ratio)}) : "", {}},
             each.held.size(),
             each.bales.size(),
             {whole_units(each.weighed), {}},
             {each.capacity ? whole_units(*each.capacity) : "", {}},
             {each.capacity ? fmt::format("{:.0f} %", 100 * each.share()) : "", {}},
             {each.full_by(on), {}},
             {each.presses ? "" : span_of(each.waiting, each.oldest()), {}}});
        rows.push_back(std::move(row));
    }
    made.show(shown);
    made.say("\n{}Full by: at the pace of the {} days to {}; claims and nets together are held against the capacity.\n"
             "One site in full: tarewell sites SITE\n",
             words_for_ratio(seen, ratio), pace_days, quantity::text_of(on));
    made.data = {{"on", on}, {"ratio", ratio ? value{*ratio} : value{}}, {"sites", std::move(rows)}};
    return made;
}

namespace {

void tell_bundles(const season_view& seen, const char* heading, const std::string& name,
                  const std::vector<lying_bundle>& bundles, answer& to) {
    const bool reasons =
        std::any_of(bundles.begin(), bundles.end(), [](const auto& each) { return !each.reason.empty(); });
    table shown{{"bundle", "label", "since", "claimed", reasons ? "reason" : "=reason"}};
    for (const auto& each : bundles) {
        const auto& of = seen.season.at(each.bundle);
        const auto& registration = seen.season.at(of.registration);
        shown.add({of.id.text(),
                   fmt::format("{}, {} of {}", seen.season.at(registration.grower).name, of.number, of.of), each.since,
                   seen.reckoning.at(each.bundle).claim.estimate, each.reason});
    }
    to.say("\n{}: {}\n", heading, counted(bundles.size(), "bundle", "bundles"));
    if (bundles.empty()) {
        to.data[name] = value::array();
        return;
    }
    to.tell(name, shown);
}

void tell_bales(const season_view& seen, const site_stock& of, answer& to) {
    table shown{{"bale", "pressed", "bundles", "net", "shipment", "processor"}};
    for (const auto& each : of.bales) {
        const auto& bale = seen.season.at(each.bale);
        const auto* shipment = each.to_be_shipped ? &seen.season.at(each.to_be_shipped) : nullptr;
        shown.add({bale.id.text(),
                   bale.date,
                   seen.reckoning.at(each.bale).inside.size(),
                   {each.net ? quantity::text_of(*each.net) : "not weighed", each.net ? value{*each.net} : value{}},
                   {shipment ? fmt::format("{} of {}", shipment->id.text(), quantity::text_of(shipment->date)) : "",
                    shipment ? value{shipment->id.text()} : value{}},
                   shipment ? shipment->processor : std::string{}});
    }
    to.say("\nBales here: {}\n", of.bales.size());
    if (of.bales.empty())
        to.data["bales"] = value::array();
    else
        to.tell("bales", shown);
}

std::string person_and_hours(const site_stock& of) {
    std::string text;
    if (!of.host.empty()) text += "Host: " + of.host + "\n";
    if (!of.opens.empty() || !of.closes.empty()) text += fmt::format("Open: {} to {}\n", of.opens, of.closes);
    return text;
}

} // namespace

answer site_in_full(const season_view& seen, const std::string& id, day on) {
    const auto stock = stock_of_sites(seen, on);
    const auto found = std::find_if(stock.begin(), stock.end(), [&](const auto& each) { return each.id == id; });
    if (found == stock.end())
        throw input_error(fmt::format("no site '{}' is defined; tarewell list sites shows all", id));
    const auto ratio = weighed_over_claimed(seen, on);
    answer made;
    made.data = row_of(*found, ratio, on, seen.unit());
    made.data["on"] = on;
    made.say("{} ({}){} on {}\n{}", found->name, found->id, found->town.empty() ? "" : ", " + found->town,
             quantity::text_of(on), person_and_hours(*found));
    made.say("On hand: {} {} by claims and nets", whole_units(found->weight()), seen.unit());
    if (found->capacity) made.say(", {:.0f} % of {}", 100 * found->share(), whole_units(*found->capacity));
    made.say(
        "\nFull by: {}{}\n{}", found->full_by(on),
        found->capacity && found->arrived.count() > 0
            ? fmt::format("; {} {} came in the {} days to then", whole_units(found->arrived), seen.unit(), pace_days)
            : std::string{},
        words_for_ratio(seen, ratio));
    tell_bundles(seen, found->presses ? "Waiting to be pressed" : "Waiting for a haul", "waiting", found->waiting,
                 made);
    tell_bundles(seen, "Held", "held_bundles", found->held, made);
    tell_bales(seen, *found, made);
    return made;
}

} // namespace tarewell::desk
