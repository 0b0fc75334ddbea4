#include "reconcile/flag_maker.hpp"
#include "reconcile/scales.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

namespace tarewell::reconcile {

using namespace records; // NOLINT

void flag_maker::look_at_tickets() {
    for (const auto& ticket : s_.tickets)
        look_at_ticket(ticket);
    for (const auto index : r_.check_tickets)
        look_at_check(s_.tickets[index]);
    for (const auto index : r_.empty_loads) {
        const auto& ticket = s_.tickets[index];
        raise("load-empty", ticket.id, ticket.date, {{kind::ticket, ticket.entry}},
              fmt::format("Ticket {} on load {} leaves nothing for the bales without a ticket of their own; "
                          "they stay unweighed.",
                          ticket.id, s_.at(ticket.load).id.text()));
    }
}

void flag_maker::look_at_ticket(const ticket& weighed) {
    const auto& scale = s_.at(weighed.scale);
    const std::vector<row_ref> row{{kind::ticket, weighed.entry}};
    const auto flag_it = [&](std::string_view code, const std::string& what) {
        raise(code, weighed.id, weighed.date, row,
              fmt::format("Ticket {} of {}: {}.", weighed.id, quantity::text_of(weighed.date), what));
    };
    const auto unit = quantity::name_of(weighed.unit);
    const auto net = quantity::shortest_text(weighed.net);
    if (weighed.as_printed && weighed.gross && weighed.tare) {
        const auto scaled = [](const decimal& value) {
            return value.mantissa * static_cast<std::int64_t>(quantity::power_of_ten(9 - value.scale));
        };
        const auto difference = scaled(*weighed.gross) - scaled(*weighed.tare);
        if (difference != scaled(weighed.net))
            flag_it("net-as-printed", fmt::format("it prints net {} {}, but gross less tare is {}", net, unit,
                                                  quantity::shortest_text({difference, 9})));
    }
    if (weighed.unit != scale.unit)
        flag_it("other-unit", fmt::format("it is in {} and scale {} weighs in {}", unit, scale.id.text(),
                                          quantity::name_of(scale.unit)));
    if (!on_division(scale, weighed))
        flag_it("off-division", fmt::format("net {} {} is not a multiple of scale {}'s division, {}", net, unit,
                                            scale.id.text(), quantity::shortest_text(scale.division)));
    if (over_capacity(scale, weighed))
        flag_it("over-capacity", fmt::format("it is above scale {}'s capacity, {} {}", scale.id.text(),
                                             quantity::shortest_text(scale.capacity), quantity::name_of(scale.unit)));
    if ((scale.certified_on && weighed.date < *scale.certified_on) ||
        (scale.certified_until && weighed.date > *scale.certified_until))
        flag_it("certificate",
                fmt::format("scale {} was certified from {} to {}", scale.id.text(),
                            scale.certified_on ? quantity::text_of(*scale.certified_on) : "no date",
                            scale.certified_until ? quantity::text_of(*scale.certified_until) : "no date"));
    const auto accuracy = read_accuracy_class(scale.class_name);
    if (accuracy && net_in_divisions(scale, weighed) < minimum_load_divisions(*accuracy))
        flag_it("below-minimum", fmt::format("net {} {} is below {} divisions, the least load of class {}", net, unit,
                                             minimum_load_divisions(*accuracy), scale.class_name));
}

/// A second ticket on a bale or load against the one that decides.
void flag_maker::look_at_check(const ticket& check) {
    if (check.weighs == subject::load) {
        look_at_load(check);
        return;
    }
    const auto& weighed = r_.at(check.bale).weighed;
    if (!weighed) return;
    const auto& deciding = s_.tickets[weighed->ticket];
    const auto allowed = tolerance_of(s_, check) + tolerance_of(s_, deciding);
    const auto difference = check.net_weight - weighed->net;
    if (std::abs(difference.count()) <= allowed.count()) return;
    raise("check-weight-off", check.id, check.date, {{kind::ticket, check.entry}, {kind::ticket, deciding.entry}},
          fmt::format("Check ticket {} on bale {} says {} and ticket {} says {}; the scales' tolerances allow {}.",
                      check.id, s_.at(check.bale).id.text(), shown(check.net_weight), deciding.id, shown(weighed->net),
                      shown(allowed)));
}

void flag_maker::look_at_load(const ticket& check) {
    weight bales;
    weight of_bales;
    std::optional<std::size_t> of_load; // where it weighed a bale, the bales together are its net
    for (const auto bale : s_.at(check.load).bales) {
        const auto& weighed = r_.at(bale).weighed;
        if (!weighed) return;
        bales += weighed->net;
        if (weighed->by_load)
            of_load = weighed->ticket;
        else
            of_bales += tolerance_of(s_, s_.tickets[weighed->ticket]);
    }
    const auto allowed = tolerance_of(s_, check) + (of_load ? tolerance_of(s_, s_.tickets[*of_load]) : of_bales);
    const auto difference = check.net_weight - bales;
    if (std::abs(difference.count()) <= allowed.count()) return;
    raise("load-off", check.id, check.date, {{kind::ticket, check.entry}},
          fmt::format("Ticket {} on load {} says {} and its bales together {}; the scales' tolerances allow {}.",
                      check.id, s_.at(check.load).id.text(), shown(check.net_weight), shown(bales), shown(allowed)));
}

void flag_maker::look_at_rejects() {
    std::vector<weight> counted(s_.rejects.size());
    for (const auto& each : r_.residues) {
        const auto& reject = s_.rejects[each.reject];
        counted[each.reject] = each.counted;
        if (each.counted < each.asked)
            raise("residue-capped", reject.id, reject.date, {{kind::reject, reject.entry}},
                  fmt::format("Reject {} takes {} out of bale {}, which had {} left.", reject.id, shown(each.asked),
                              s_.at(each.bale).id.text(), shown(each.counted)));
    }
    for (const auto index : r_.weightless_rejects)
        raise("reject-without-weight", s_.rejects[index].id, s_.rejects[index].date,
              {{kind::reject, s_.rejects[index].entry}},
              fmt::format("Reject {} is of material that was not yet weighed, or was out of the bale already; it "
                          "rejects no bundle and takes off no weight.",
                          s_.rejects[index].id));
    for (std::size_t i = 0; i < s_.rejects.size(); ++i) {
        const auto& reject = s_.rejects[i];
        const auto what = reject.bundle ? named(reject.bundle) : "Bale " + s_.at(reject.bale).id.text();
        raise(
            "rejected", reject.id, reject.date, {{kind::reject, reject.entry}},
            fmt::format("{}: rejected {} the {} because of {}; {}{}.", what, reject.stage == stage::site ? "at" : "by",
                        reject.stage == stage::site    ? "site"
                        : reject.stage == stage::baler ? "baler"
                                                       : "processor",
                        reject.reason, counted[i].count() > 0 ? shown(counted[i]) + " taken off; " : std::string{},
                        reject.disposition.empty() ? "what became of it is not told" : "it was " + reject.disposition));
    }
    for (const auto& receipt : s_.receipts)
        if (receipt.outcome == outcome::rejected)
            raise("rejected", receipt.id, receipt.date, {{kind::receipt, receipt.entry}},
                  fmt::format(
                      "{}: rejected at site {}{}; {}.", named(receipt.bundle), s_.at(receipt.site).id.text(),
                      receipt.reason.empty() ? std::string{" (no cause told)"} : " because of " + receipt.reason,
                      receipt.disposition.empty() ? "what became of it is not told" : "it was " + receipt.disposition));
    for (const auto index : r_.late_receipts) {
        const auto& receipt = s_.receipts[index];
        raise("late-rejection", receipt.id, receipt.date, {{kind::receipt, receipt.entry}},
              fmt::format("Receipt {} rejects {} after its bale was weighed; it counts for nothing. Record a reject "
                          "with its weight instead.",
                          receipt.id, named(receipt.bundle)));
    }
}

void flag_maker::look_at_day(kind which, entry_no entry, const std::string& id, day on) {
    const auto terms = s_.terms_on(on);
    if (terms.begins <= on && on <= terms.ends) return;
    raise("outside-award", id, on, {{which, entry}},
          fmt::format("The {} {} is dated {}, outside the award ({} to {}).", info(which).name, id,
                      quantity::text_of(on), quantity::text_of(terms.begins), quantity::text_of(terms.ends)));
}

void flag_maker::look_at_dates() {
    for (const auto& each : s_.registrations)
        if (!each.covers.empty())
            look_at_day(kind::cover, s_.covers[each.covers.front()].entry, each.id.text(), each.date);
    for (const auto& each : s_.receipts)
        look_at_day(kind::receipt, each.entry, each.id, each.date);
    for (const auto& each : s_.rejects)
        look_at_day(kind::reject, each.entry, each.id, each.date);
    for (const auto& each : s_.tickets)
        look_at_day(kind::ticket, each.entry, each.id, each.date);
    for (const auto& each : s_.costs)
        look_at_day(kind::cost, each.entry, each.id, each.date);
    for (const auto& each : s_.gifts)
        look_at_day(kind::inkind, each.entry, each.id, each.date);
    for (const auto& each : s_.obligations)
        look_at_day(kind::obligation, each.entry, each.id, each.date);
    for (const auto& each : s_.incomes)
        look_at_day(kind::income, each.entry, each.id, each.date);
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

} // namespace tarewell::reconcile
