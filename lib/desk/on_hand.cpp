#include "desk/on_hand.hpp"

#include "quantity/decimal.hpp"
#include "reconcile/measures.hpp"

#include <unordered_map>

namespace tarewell::desk {
namespace {

using records::site_place;

/// Where each bundle that was hauled is now: the last haul by day, then by order of entry.
std::unordered_map<std::size_t, site_place> hauled_to(const records::season& season) {
    std::unordered_map<std::size_t, const records::haul_row*> last;
    for (const auto& each : season.hauls) {
        auto& known = last[each.bundle.index()];
        if (known == nullptr || std::pair{known->date, known->order} < std::pair{each.date, each.order}) known = &each;
    }
    std::unordered_map<std::size_t, site_place> to;
    for (const auto& [bundle, haul] : last)
        to.emplace(bundle, haul->to);
    return to;
}

/// Capacities stand in the ledger alone: no rule looks at them.
void put_capacities(const season_view& seen, std::vector<site_on_hand>& sites) {
    seen.file.for_each(records::kind::site, seen.as_of, [&](const ledger::stored_row& stored) {
        const auto place = seen.season.find_site(stored.values["site"]);
        const auto text = stored.values["capacity_lb"];
        if (!place || text.empty()) return;
        sites[place.index()].capacity =
            quantity::weight_from(quantity::decimal_of(text), quantity::weight_unit::lb, seen.award().unit);
    });
}

} // namespace

std::optional<std::int64_t> site_on_hand::percent_full() const {
    if (!capacity || capacity->count() <= 0) return std::nullopt;
    return (claimed.count() * 200 + capacity->count()) / (capacity->count() * 2);
}

std::vector<site_on_hand> on_hand_by_site(const season_view& seen) {
    const auto& season = seen.season;
    std::vector<site_on_hand> sites;
    for (const auto& each : season.sites)
        sites.push_back({each.id.text(), each.name, 0, {}, {}});
    put_capacities(seen, sites);
    std::unordered_map<entry_no, const records::receipt*> receipts;
    for (const auto& each : season.receipts)
        receipts.emplace(each.entry, &each);
    const auto hauled = hauled_to(season);
    reconcile::measures::received.rows(season, seen.reckoning, quantity::day::max(), [&](const reconcile::measured& row) {
        if (row.until) return;
        const auto& receipt = *receipts.at(row.row.entry);
        const auto moved = hauled.find(receipt.bundle.index());
        auto& at = sites[(moved == hauled.end() ? receipt.site : moved->second).index()];
        ++at.bundles;
        at.claimed += seen.reckoning.at(receipt.bundle).claim.estimate;
    });
    return sites;
}

std::string whole_text(quantity::weight of) {
    auto text = std::to_string((of.count() + 500) / 1000);
    for (auto at = static_cast<std::ptrdiff_t>(text.size()) - 3; at > 0; at -= 3)
        text.insert(static_cast<std::size_t>(at), ",");
    return text;
}

} // namespace tarewell::desk
