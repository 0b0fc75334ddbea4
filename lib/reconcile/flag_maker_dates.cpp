// Days that cannot be, or lie outside the award.
#include "reconcile/flag_maker.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

namespace tarewell::reconcile {

using namespace records; // NOLINT

namespace {

/// Each record of film on its way, once, by its first row: its kind, entry, id and day.
template <class See> void see_paper(const season& of, const See& see) {
    for (const auto& each : of.registrations)
        if (!each.covers.empty()) see(kind::cover, of.covers[each.covers.front()].entry, each.id.text(), each.date);
    for (const auto& each : of.receipts)
        see(kind::receipt, each.entry, each.id, each.date);
    for (const auto& each : of.rejects)
        see(kind::reject, each.entry, each.id, each.date);
    for (const auto& each : of.tickets)
        see(kind::ticket, each.entry, each.id, each.date);
    for (const auto& each : of.acceptances)
        see(kind::acceptance, each.entry, of.at(each.shipment).id.text(), each.date);
    std::set<std::size_t> seen;
    for (const auto& each : of.bale_rows)
        if (seen.insert(each.bale.index()).second)
            see(kind::bale, each.entry, of.at(each.bale).id.text(), of.at(each.bale).date);
    seen.clear();
    for (const auto& each : of.shipment_rows)
        if (seen.insert(each.shipment.index()).second)
            see(kind::shipment, each.entry, of.at(each.shipment).id.text(), of.at(each.shipment).date);
    std::set<std::string> hauls;
    for (const auto& each : of.hauls)
        if (hauls.insert(each.haul).second) see(kind::haul, each.entry, each.haul, each.date);
}

} // namespace

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
    see_paper(s_,
              [this](kind which, entry_no entry, const std::string& id, day on) { look_at_day(which, entry, id, on); });
    look_at_money_dates();
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
    const auto look = [&](kind, entry_no entry, const std::string&, day on) {
        const auto entered = s_.entered_on(entry);
        if (!entered || on <= *entered) latest = std::max(latest, on);
    };
    see_paper(s_, look);
    for (const auto& each : s_.costs)
        look(kind::cost, each.entry, each.id, each.date);
    return latest;
}

} // namespace tarewell::reconcile
