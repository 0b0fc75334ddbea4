#include "figures/sums.hpp"

#include <algorithm>
#include <map>
#include <set>

namespace tarewell::figures {

using namespace ledger; // NOLINT

void sums::add_bundle(bundles& to, std::size_t index, kind which, entry_no entry) const {
    to.count.add(which, entry, 1);
    to.estimate.add(which, entry, r_.bundles[index].claim.estimate.count());
}

sums::bundles sums::registered(span_of_days days) const {
    bundles found;
    for (std::size_t i = 0; i < s_.bundles.size(); ++i)
        if (days.holds(s_.at(s_.bundles[i].registration).date)) add_bundle(found, i, kind::bundle, s_.bundles[i].entry);
    return found;
}

sums::bundles sums::received(span_of_days days) const {
    bundles found;
    for (const auto& receipt : s_.receipts)
        if (receipt.outcome == outcome::accepted && days.holds(receipt.date))
            add_bundle(found, receipt.bundle.index(), kind::receipt, receipt.entry);
    return found;
}

sums::bundles sums::rejected(span_of_days days) const {
    bundles found;
    for (std::size_t i = 0; i < s_.bundles.size(); ++i) {
        const auto& rejections = r_.bundles[i].rejections;
        if (rejections.empty() || !days.holds(rejections.front().on)) continue;
        const auto& first = rejections.front();
        const auto entry = first.by == kind::receipt ? s_.receipts[first.index].entry : s_.rejects[first.index].entry;
        add_bundle(found, i, first.by, entry);
    }
    return found;
}

sums::bundles sums::on_hand(day last) const {
    bundles found;
    for (std::size_t i = 0; i < s_.bundles.size(); ++i) {
        const auto& bundle = r_.bundles[i];
        if (!bundle.accepting_receipt) continue;
        const auto& receipt = s_.receipts[*bundle.accepting_receipt];
        if (receipt.date > last) continue;
        const bool rejected_since =
            std::any_of(bundle.rejections.begin(), bundle.rejections.end(),
                        [&](const reconcile::rejection& each) { return each.on >= receipt.date && each.on <= last; });
        const bool weighed = bundle.in_bale() && r_.at(bundle.bale).weighed && r_.at(bundle.bale).weighed->on <= last;
        if (!rejected_since && !weighed) add_bundle(found, i, kind::receipt, receipt.entry);
    }
    return found;
}

tally sums::baled_bundles(span_of_days days) const {
    tally found;
    for (const auto& pressed : s_.bale_rows)
        if (days.holds(s_.at(pressed.bale).date)) found.add(kind::bale, pressed.entry, 1);
    return found;
}

tally sums::bales_made(span_of_days days) const {
    tally found;
    std::set<bale_place> seen;
    for (const auto& pressed : s_.bale_rows)
        if (days.holds(s_.at(pressed.bale).date))
            found.add(kind::bale, pressed.entry, seen.insert(pressed.bale).second ? 1 : 0);
    return found;
}

std::optional<day> sums::shipped_on(bale_place bale) const {
    const auto shipment = r_.at(bale).shipment;
    return shipment ? std::optional{s_.at(shipment).date} : std::nullopt;
}

tally sums::bales_on_hand(day last) const {
    tally found;
    std::set<bale_place> seen;
    for (const auto& pressed : s_.bale_rows) {
        const auto shipped = shipped_on(pressed.bale);
        if (s_.at(pressed.bale).date > last || (shipped && *shipped <= last)) continue;
        found.add(kind::bale, pressed.entry, seen.insert(pressed.bale).second ? 1 : 0);
    }
    return found;
}

tally sums::bales_weighed(span_of_days days) const {
    tally found;
    for (const auto& bale : r_.bales)
        if (bale.weighed && days.holds(bale.weighed->on))
            found.add(kind::ticket, s_.tickets[bale.weighed->ticket].entry, 1);
    return found;
}

tally sums::net_weighed(span_of_days days) const {
    tally found;
    for (const auto& bale : r_.bales)
        if (bale.weighed && days.holds(bale.weighed->on))
            found.add(kind::ticket, s_.tickets[bale.weighed->ticket].entry, bale.weighed->net.count());
    return found;
}

tally sums::estimate_weighed(span_of_days days) const {
    tally found;
    for (const auto& pressed : s_.bale_rows) {
        const auto& bale = r_.at(pressed.bale);
        if (bale.weighed && days.holds(bale.weighed->on) && r_.at(pressed.bundle).in_bale())
            found.add(kind::bale, pressed.entry, r_.at(pressed.bundle).claim.estimate.count());
    }
    return found;
}

tally sums::residue(span_of_days days) const {
    tally found;
    for (const auto& each : r_.residues)
        if (days.holds(each.on)) found.add(kind::reject, s_.rejects[each.reject].entry, each.counted.count());
    return found;
}

tally sums::shipped(span_of_days days) const {
    tally found;
    std::map<bale_place, entry_no> rows;
    for (const auto& loaded : s_.shipment_rows)
        rows.emplace(loaded.bale, loaded.entry);
    for (const auto& [bale, row] : rows) {
        const auto& weighed = r_.at(bale).weighed;
        if (!weighed || !days.holds(std::max(weighed->on, *shipped_on(bale)))) continue;
        found.add(kind::ticket, s_.tickets[weighed->ticket].entry, weighed->net.count());
        found.look_at(kind::shipment, row);
    }
    return found;
}

tally sums::accepted(span_of_days days) const {
    tally found;
    for (const auto& each : s_.acceptances)
        if (days.holds(each.date)) found.add(kind::acceptance, each.entry, each.accepted_weight.count());
    return found;
}

tally sums::diverted(span_of_days days) const {
    const auto counted_when = s_.the_award->counted_when;
    if (counted_when == counting::weighed) {
        tally found = net_weighed(days);
        return found -= residue(days);
    }
    tally found = counted_when == counting::shipped ? shipped(days) : accepted(days);
    tally off;
    for (const auto& each : r_.residues) {
        auto on = each.on;
        if (counted_when == counting::shipped) {
            const auto left = shipped_on(each.bale);
            if (!left) continue;
            on = std::max(on, *left);
        } else if (s_.rejects[each.reject].stage != stage::processor) {
            continue;
        }
        if (days.holds(on)) off.add(kind::reject, s_.rejects[each.reject].entry, each.counted.count());
    }
    return found -= off;
}

tally sums::growers_served(span_of_days days) const {
    tally found;
    std::set<grower_place> seen;
    for (const auto& receipt : s_.receipts) {
        if (receipt.outcome != outcome::accepted || !days.holds(receipt.date)) continue;
        const auto grower = s_.at(s_.at(receipt.bundle).registration).grower;
        if (s_.at(grower).id.text() == unknown_grower) continue;
        found.add(kind::receipt, receipt.entry, seen.insert(grower).second ? 1 : 0);
    }
    return found;
}

tally sums::growers_new(span_of_days days) const {
    std::set<grower_place> before;
    tally found;
    for (const auto& receipt : s_.receipts)
        if (receipt.outcome == outcome::accepted && receipt.date < days.from)
            before.insert(s_.at(s_.at(receipt.bundle).registration).grower);
    for (const auto& receipt : s_.receipts) {
        if (receipt.outcome != outcome::accepted || !days.holds(receipt.date)) continue;
        const auto grower = s_.at(s_.at(receipt.bundle).registration).grower;
        if (s_.at(grower).id.text() == unknown_grower) continue;
        if (before.insert(grower).second) found.add(kind::receipt, receipt.entry, 1);
    }
    return found;
}

tally sums::sites_active(span_of_days days) const {
    tally found;
    std::set<site_place> seen;
    for (const auto& receipt : s_.receipts)
        if (days.holds(receipt.date)) found.add(kind::receipt, receipt.entry, seen.insert(receipt.site).second ? 1 : 0);
    return found;
}

tally sums::weighed_not_counted(day last) const {
    tally waiting;
    const auto counted_when = s_.the_award->counted_when;
    if (counted_when == ledger::counting::weighed) return waiting;
    std::set<std::size_t> accepted;
    for (const auto& each : s_.acceptances)
        if (each.date <= last) accepted.insert(each.shipment.index());
    for (std::size_t i = 0; i < s_.bales.size(); ++i) {
        const auto& known = r_.bales[i];
        if (!known.weighed || known.weighed->on > last) continue;
        const auto shipped = shipped_on(ledger::bale_place{i});
        const bool counted = counted_when == ledger::counting::shipped
                                 ? shipped && *shipped <= last
                                 : known.shipment && accepted.contains(known.shipment.index());
        if (!counted)
            waiting.add(ledger::kind::ticket, s_.tickets[known.weighed->ticket].entry,
                        known.weighed->net.count() - known.residue.count());
    }
    return waiting;
}

} // namespace tarewell::figures
