#include "reconcile/measures.hpp"

#include "reconcile/ahead.hpp"
#include "reconcile/days.hpp"

namespace tarewell::reconcile::measures {
namespace {

using namespace records; // NOLINT

constexpr std::int64_t thousandths = 1000;
constexpr grower_place unknown{0}; // a season has it there

bool by_weighing_or_shipment(const award& of) { return of.counted_when != counting::accepted; }
bool by_shipment(const award& of) { return of.counted_when == counting::shipped; }
bool by_shipment_or_acceptance(const award& of) { return of.counted_when != counting::weighed; }
bool by_acceptance(const award& of) { return of.counted_when == counting::accepted; }

std::int64_t claim_of(const reckoning& r, bundle_place bundle) { return r.at(bundle).claim.estimate.count(); }

/// Where what a row's bundle came to stands in memory.
auto outcome_in(const reckoning& r) {
    return [&r](const auto& row) { return &r.bundles[row.bundle.index()]; };
}

void see_registered(const season& s, const reckoning& r, day, const see_measured& see) {
    for (std::size_t i = 0; i < s.bundles.size(); ++i) {
        const auto& each = s.bundles[i];
        see({{kind::bundle, each.entry, claim_of(r, bundle_place{i})}, s.at(each.registration).date});
    }
}

void see_received(const season& s, const reckoning& r, day, const see_measured& see) {
    for_each_ahead(s.receipts, outcome_in(r), [&](const receipt& each, std::size_t) {
        if (each.outcome == outcome::accepted)
            see({{kind::receipt, each.entry, claim_of(r, each.bundle)}, each.date, left_on(s, r, each.bundle)});
    });
}

void see_rejected(const season& s, const reckoning& r, day, const see_measured& see) {
    for (const auto& bundle : r.bundles) {
        if (bundle.rejections.empty()) continue;
        const auto& first = bundle.rejections.front();
        const auto entry = first.by == kind::receipt ? s.receipts[first.index].entry : s.rejects[first.index].entry;
        see({{first.by, entry, bundle.claim.estimate.count()}, first.on});
    }
}

void see_pressed(const season& s, const reckoning& r, day, const see_measured& see) {
    for (const auto& each : s.bale_rows)
        see({{kind::bale, each.entry, 1}, s.at(each.bale).date, shipped_on(s, r, each.bale), each.bale.index()});
}

void see_claimed(const season& s, const reckoning& r, day, const see_measured& see) {
    for_each_ahead(s.bale_rows, outcome_in(r), [&](const bale_row& each, std::size_t) {
        const auto& weighed = r.at(each.bale).weighed;
        if (weighed && r.at(each.bundle).in_bale())
            see({{kind::bale, each.entry, claim_of(r, each.bundle)}, weighed->on});
    });
}

/// Weighed bales by their tickets, in the order of the season.
template <class Body> void for_each_weighed(const season& s, const reckoning& r, Body&& body) {
    for (std::size_t i = 0; i < r.bales.size(); ++i)
        if (const auto& weighed = r.bales[i].weighed) body(bale_place{i}, s.tickets[weighed->ticket].entry, *weighed);
}

void see_weighed(const season& s, const reckoning& r, day, const see_measured& see) {
    for_each_weighed(s, r, [&](bale_place, entry_no ticket, const weighing& weighed) {
        see({{kind::ticket, ticket, weighed.net.count()}, weighed.on});
    });
}

void see_residue(const season& s, const reckoning& r, day, const see_measured& see) {
    for (const auto& each : r.residues)
        see({{kind::reject, s.rejects[each.reject].entry, each.counted.count()}, each.on});
}

/// Beside each bale's ticket stands the row that ships it, which decides the day.
void see_shipped(const season& s, const reckoning& r, day, const see_measured& see) {
    for (const auto& loaded : s.shipment_rows) {
        const auto on = shipped_and_weighed_on(s, r, loaded.bale);
        if (!on) continue;
        const auto& weighed = *r.at(loaded.bale).weighed;
        see({{kind::ticket, s.tickets[weighed.ticket].entry, weighed.net.count()}, *on});
        see({{kind::shipment, loaded.entry, std::nullopt}, *on});
    }
}

void see_accepted(const season& s, const reckoning&, day, const see_measured& see) {
    for (const auto& each : s.acceptances)
        see({{kind::acceptance, each.entry, each.accepted_weight.count()}, each.date});
}

void see_counted_bales(const season& s, const reckoning& r, day last, const see_measured& see) {
    (by_shipment(*s.the_award) ? see_shipped : see_weighed)(s, r, last, see);
}

void see_counted_residue(const season& s, const reckoning& r, day, const see_measured& see) {
    for (const auto& each : r.residues)
        if (const auto on = counted_on(s, r, each))
            see({{kind::reject, s.rejects[each.reject].entry, each.counted.count()}, *on});
}

void see_waiting_bales(const season& s, const reckoning& r, day, const see_measured& see) {
    for_each_weighed(s, r, [&](bale_place bale, entry_no ticket, const weighing& weighed) {
        see({{kind::ticket, ticket, weighed.net.count()}, weighed.on, counted_on(s, r, bale)});
    });
}

void see_waiting_residue(const season& s, const reckoning& r, day, const see_measured& see) {
    for (const auto& each : r.residues)
        see({{kind::reject, s.rejects[each.reject].entry, each.counted.count()}, each.on, counted_on(s, r, each.bale)});
}

void see_served(const season& s, const reckoning&, day, const see_measured& see) {
    for (const auto& each : s.receipts) {
        const auto grower = s.at(s.at(each.bundle).registration).grower;
        if (each.outcome == outcome::accepted && grower != unknown)
            see({{kind::receipt, each.entry, 1}, each.date, std::nullopt, grower.index()});
    }
}

void see_visited(const season& s, const reckoning&, day, const see_measured& see) {
    for (const auto& each : s.receipts)
        see({{kind::receipt, each.entry, 1}, each.date, std::nullopt, each.site.index()});
}

} // namespace

constexpr measure bundles(decltype(measure::rows) rows, std::string_view on, std::string_view until = {}) {
    return {rows, thousandths, {.table = "Bundles", .on = on, .adds = "estimate", .until = until}};
}
const measure registered = bundles(see_registered, "registered_on");
const measure received = bundles(see_received, "received_on", "left_on");
const measure rejected = bundles(see_rejected, "rejected_on");
const measure baled{see_pressed, 1, {.table = "Bundles", .on = "baled_on"}};
const measure pressed{see_pressed, 1, {.table = "Bales", .on = "made_on", .until = "shipped_on"}};
const measure weighed{see_weighed, thousandths, {.table = "Bales", .on = "weighed_on", .adds = "net"}};
const measure claimed{see_claimed, thousandths, {.table = "Bales", .on = "weighed_on", .adds = "estimate"}};
const measure residue{see_residue, thousandths, {.table = "Rejects", .on = "date", .adds = "residue"}};
const measure shipped{see_shipped, thousandths, {.table = "Bales", .on = "shipped_and_weighed_on", .adds = "net"}};
const measure accepted{see_accepted, thousandths, {.table = "Acceptances", .on = "date", .adds = "weight"}};

const measure counted_bales{
    see_counted_bales, thousandths, {.table = "Bales", .on = "counted_on", .adds = "net"}, by_weighing_or_shipment};
const measure counted_acceptances{see_accepted, thousandths, accepted.shown, by_acceptance};
const measure counted_residue{
    see_counted_residue, thousandths, {.table = "Rejects", .on = "counted_on", .adds = "residue"}};
const measure waiting_bales{see_waiting_bales,
                            thousandths,
                            {.table = "Bales", .on = "weighed_on", .adds = "net", .until = "counted_on"},
                            by_shipment_or_acceptance};
const measure waiting_residue{see_waiting_residue,
                              thousandths,
                              {.table = "Rejects", .on = "date", .adds = "residue", .until = "bale_counted_on"},
                              by_shipment_or_acceptance};

const measure served{see_served,
                     1,
                     {.table = "By grower",
                      .on = "first_received",
                      .rows_of_thing = "received",
                      .where = {{{"grower", unknown_grower, false}}}}};
const measure visited{see_visited, 1, {.table = "By site", .rows_of_thing = "receipts"}};

} // namespace tarewell::reconcile::measures
