// Days that cannot be, or lie outside the award.
#include "reconcile/flag_maker.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

namespace tarewell::reconcile {

using namespace records; // NOLINT

void flag_maker::look_at_entry_day(kind which, entry_no entry, const std::string& id, day on) {
    const auto entered = s_.entered_on(entry);
    if (!entered || on <= *entered) return;
    raise("dated-after-entry", id, on, {{which, entry}},
          fmt::format("The {} {} is dated {} and was recorded on {}, before it happened.", info(which).name, id,
                      quantity::text_of(on), quantity::text_of(*entered)));
}

void flag_maker::look_at_day(kind which, entry_no entry, const std::string& id, day on) {
    look_at_entry_day(which, entry, id, on);
    const auto terms = s_.terms_on(on);
    if (terms.begins <= on && on <= terms.ends) return;
    raise("outside-award", id, on, {{which, entry}},
          fmt::format("The {} {} is dated {}, outside the award ({} to {}).", info(which).name, id,
                      quantity::text_of(on), quantity::text_of(terms.begins), quantity::text_of(terms.ends)));
}

void flag_maker::look_at_dates() {
    look_at_paper_dates();
    look_at_money_dates();
}

void flag_maker::look_at_paper_dates() {
    for (const auto& each : s_.registrations)
        if (!each.covers.empty())
            look_at_day(kind::cover, s_.covers[each.covers.front()].entry, each.id.text(), each.date);
    for (const auto& each : s_.receipts)
        look_at_day(kind::receipt, each.entry, each.id, each.date);
    for (const auto& each : s_.rejects)
        look_at_day(kind::reject, each.entry, each.id, each.date);
    for (const auto& each : s_.tickets)
        look_at_day(kind::ticket, each.entry, each.id, each.date);
    for (const auto& each : s_.acceptances)
        look_at_day(kind::acceptance, each.entry, s_.at(each.shipment).id.text(), each.date);
    std::set<std::size_t> seen;
    for (const auto& each : s_.bale_rows)
        if (seen.insert(each.bale.index()).second)
            look_at_day(kind::bale, each.entry, s_.at(each.bale).id.text(), s_.at(each.bale).date);
    seen.clear();
    for (const auto& each : s_.shipment_rows)
        if (seen.insert(each.shipment.index()).second)
            look_at_day(kind::shipment, each.entry, s_.at(each.shipment).id.text(), s_.at(each.shipment).date);
    std::set<std::string> hauls;
    for (const auto& each : s_.hauls)
        if (hauls.insert(each.haul).second) look_at_day(kind::haul, each.entry, each.haul, each.date);
}

void flag_maker::look_at_money_dates() {
    for (const auto& each : s_.costs)
        look_at_day(kind::cost, each.entry, each.id, each.date);
    for (const auto& each : s_.gifts)
        look_at_day(kind::inkind, each.entry, each.id, each.date);
    for (const auto& each : s_.obligations)
        look_at_day(kind::obligation, each.entry, each.id, each.date);
    for (const auto& each : s_.incomes)
        look_at_day(kind::income, each.entry, each.id, each.date);
    // Liquidations, requests and payments go on after the award's end.
    for (const auto& each : s_.liquidations)
        look_at_entry_day(kind::liquidation, each.entry, each.id, each.date);
    for (const auto& each : s_.payments)
        look_at_entry_day(kind::payment, each.entry, each.id, each.date);
    std::set<std::string> requests;
    for (const auto& each : s_.requests)
        if (requests.insert(each.request).second) look_at_entry_day(kind::request, each.entry, each.request, each.date);
}

/// The latest day that the season's paper knows of; a day after its own entry is a slip and no news.
day flag_maker::latest_paper() const {
    day latest = day::min();
    const auto look = [&](entry_no entry, day on) {
        const auto entered = s_.entered_on(entry);
        if (!entered || on <= *entered) latest = std::max(latest, on);
    };
    for (const auto& each : s_.registrations)
        if (!each.covers.empty()) look(s_.covers[each.covers.front()].entry, each.date);
    for (const auto& each : s_.receipts)
        look(each.entry, each.date);
    for (const auto& each : s_.hauls)
        look(each.entry, each.date);
    for (const auto& each : s_.bale_rows)
        look(each.entry, s_.at(each.bale).date);
    for (const auto& each : s_.tickets)
        look(each.entry, each.date);
    for (const auto& each : s_.shipment_rows)
        look(each.entry, s_.at(each.shipment).date);
    for (const auto& each : s_.acceptances)
        look(each.entry, each.date);
    for (const auto& each : s_.costs)
        look(each.entry, each.date);
    return latest;
}

} // namespace tarewell::reconcile
