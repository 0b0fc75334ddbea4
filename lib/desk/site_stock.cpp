#include "desk/due.hpp"

#include <algorithm>

namespace tarewell::desk {
namespace {

using namespace records; // NOLINT

/// Where each bundle lies on a day: where it was accepted, or the last haul took it since.
std::vector<site_place> whereabouts(const season_view& seen, day on) {
    std::vector<site_place> at(seen.season.bundles.size());
    std::vector<day> since(at.size());
    for (std::size_t i = 0; i < at.size(); ++i)
        if (const auto accepted = seen.reckoning.bundles[i].accepting_receipt) {
            const auto& receipt = seen.season.receipts[*accepted];
            if (receipt.date <= on) at[i] = receipt.site, since[i] = receipt.date;
        }
    for (const auto& each : seen.season.hauls) {
        const auto i = each.bundle.index();
        if (each.date <= on && at[i] && each.date >= since[i]) at[i] = each.to, since[i] = each.date;
    }
    return at;
}

bool is_rejected(const season_view& seen, std::size_t bundle, day on) {
    const auto& of = seen.reckoning.bundles[bundle];
    const auto accepted = seen.season.receipts[*of.accepting_receipt].date;
    return std::any_of(of.rejections.begin(), of.rejections.end(),
                       [&](const auto& each) { return each.on >= accepted && each.on <= on; });
}

bool is_weighed(const reconcile::bale_outcome& bale, day on) { return bale.weighed && bale.weighed->on <= on; }

} // namespace

double site_stock::share() const {
    return capacity && capacity->count() > 0 ? quantity::nearest_double(weight.count(), capacity->count()) : 0;
}

std::vector<site_stock> stock_of_sites(const season_view& seen, day on) {
    const auto& of = seen.season;
    std::vector<site_stock> stock;
    for (const auto& each : of.sites)
        stock.push_back({each.id.text(), each.name, 0, 0, {}, {}});
    seen.file.for_each(kind::site, seen.as_of, [&](const ledger::stored_row& stored) {
        const auto place = of.find_site(stored.values["site"]);
        if (place && !stored.values["capacity_lb"].empty())
            stock[place.index()].capacity =
                quantity::weight_from(quantity::decimal_of(stored.values["capacity_lb"]), quantity::weight_unit::lb,
                                      of.the_award ? of.the_award->unit : quantity::weight_unit::lb);
    });
    const auto at = whereabouts(seen, on);
    for (std::size_t i = 0; i < at.size(); ++i) {
        const auto& bundle = seen.reckoning.bundles[i];
        const bool pressed = bundle.in_bale() && of.at(bundle.bale).date <= on;
        if (!at[i] || is_rejected(seen, i, on)) continue;
        if (pressed && is_weighed(seen.reckoning.at(bundle.bale), on)) continue; // counted as a bale
        auto& here = stock[(pressed ? of.at(bundle.bale).site : at[i]).index()];
        ++here.bundles;
        here.weight += bundle.claim.estimate;
    }
    for (std::size_t i = 0; i < of.bales.size(); ++i) {
        const auto& bale = seen.reckoning.bales[i];
        if (!is_weighed(bale, on)) continue;
        if (bale.shipment && of.at(bale.shipment).date <= on) continue;
        auto& here = stock[of.bales[i].site.index()];
        ++here.bales;
        here.weight += bale.weighed->net;
    }
    return stock;
}

} // namespace tarewell::desk
