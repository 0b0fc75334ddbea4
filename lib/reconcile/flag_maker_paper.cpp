#include "reconcile/days.hpp"
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
    look_at_same_paper();
    look_at_spot_weights();
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
        flag_it("off-division",
                fmt::format("net {} {} is not a multiple of scale {}'s division, {} {}", net, unit, scale.id.text(),
                            quantity::shortest_text(scale.division), quantity::name_of(scale.unit)));
    look_at_capacity(weighed);
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

/// A bundle is weighed alone where it lies: whatever its outcome, a receipt comes first.
void flag_maker::look_at_spot_weights() {
    std::vector<std::optional<day>> received(s_.bundles.size());
    for (const auto& each : s_.receipts) {
        auto& first = received[each.bundle.index()];
        if (!first || each.date < *first) first = each.date;
    }
    for (const auto& spot : s_.tickets) {
        if (spot.weighs != subject::bundle) continue;
        const auto& first = received[spot.bundle.index()];
        if (first && *first <= spot.date) continue;
        raise("spot-before-received", spot.id, spot.date, {{kind::ticket, spot.entry}},
              fmt::format("{} was weighed alone on {} (ticket {}) and {}.", named(spot.bundle),
                          quantity::text_of(spot.date), spot.id,
                          first ? "was received on " + quantity::text_of(*first) : std::string{"has no receipt"}));
    }
}

void flag_maker::look_at_capacity(const ticket& weighed) {
    const auto& scale = s_.at(weighed.scale);
    const auto found = held_to_capacity(scale, weighed);
    if (found == capacity::within) return;
    raise(found == capacity::beyond_tolerance ? "beyond-capacity" : "over-capacity", weighed.id, weighed.date,
          {{kind::ticket, weighed.entry}},
          fmt::format("Ticket {} of {}: {} is above scale {}'s capacity, {} {}.", weighed.id,
                      quantity::text_of(weighed.date), weighed.gross ? "its gross" : "its net", scale.id.text(),
                      quantity::shortest_text(scale.capacity), quantity::name_of(scale.unit)));
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
    const std::vector<row_ref> rows{{kind::ticket, check.entry}, {kind::ticket, deciding.entry}};
    const auto& bale = s_.at(check.bale).id.text();
    if (difference.count() == 0)
        raise("weighed-again", check.id, check.date, rows,
              fmt::format("Ticket {} on bale {} says {} as ticket {} does: is it one weighing recorded twice?",
                          check.id, bale, shown(check.net_weight), deciding.id));
    else if (std::abs(difference.count()) <= allowed.count())
        raise("check-weight", check.id, check.date, rows,
              fmt::format("Bale {} was weighed once more: ticket {} says {}, and ticket {}, which decides, {}.", bale,
                          check.id, shown(check.net_weight), deciding.id, shown(weighed->net)));
    if (std::abs(difference.count()) <= allowed.count()) return;
    raise("check-weight-off", check.id, check.date, rows,
          fmt::format("Check ticket {} on bale {} says {} and ticket {} says {}; the scales' tolerances allow {}.",
                      check.id, bale, shown(check.net_weight), deciding.id, shown(weighed->net), shown(allowed)));
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
        if (!reject.bundle && !reject.rejected_weight)
            raise("whole-bale-rejected", reject.id, reject.date, {{kind::reject, reject.entry}},
                  fmt::format("Reject {} gives no weight, so the whole bale {} is deducted: {}. Correct it with the "
                              "weight if only a part was rejected.",
                              reject.id, s_.at(each.bale).id.text(), shown(each.counted)));
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
            fmt::format("{}: rejected {} the {}: {}; {}{}.", what, reject.stage == stage::site ? "at" : "by",
                        reject.stage == stage::site    ? "site"
                        : reject.stage == stage::baler ? "baler"
                                                       : "processor",
                        reject.reason, counted[i].count() > 0 ? shown(counted[i]) + " deducted; " : std::string{},
                        reject.disposition.empty() ? "what became of it is not told" : "it was " + reject.disposition));
    }
    for (const auto& receipt : s_.receipts)
        if (receipt.outcome == outcome::rejected)
            raise("rejected", receipt.id, receipt.date, {{kind::receipt, receipt.entry}},
                  fmt::format("{}: rejected at site {}{}; {}.", named(receipt.bundle), s_.at(receipt.site).id.text(),
                              receipt.reason.empty() ? std::string{" (no cause given)"} : ": " + receipt.reason,
                              receipt.disposition.empty() ? "what became of it is not told"
                                                          : "it was " + receipt.disposition));
    for (const auto index : r_.late_receipts) {
        const auto& receipt = s_.receipts[index];
        raise("late-rejection", receipt.id, receipt.date, {{kind::receipt, receipt.entry}},
              fmt::format("Receipt {} rejects {} after its bale was weighed; it counts for nothing. Record a reject "
                          "with its weight instead.",
                          receipt.id, named(receipt.bundle)));
    }
}

/// What the processor's scale says of a load beside what the bales' tickets say.
void flag_maker::look_at_acceptances() {
    for (const auto& made : s_.acceptances) {
        const auto known = shipped_weight(s_, r_, made);
        if (!known) continue;
        const auto shipped = *known;
        const auto percent = s_.number_on("acceptance_tolerance_percent", made.date);
        const bool above = made.accepted_weight > shipped;
        const auto apart = above ? (made.accepted_weight - shipped).count() : (shipped - made.accepted_weight).count();
        if (!quantity::is_over_percent(apart, shipped.count(), percent)) continue;
        const auto& id = s_.at(made.shipment).id.text();
        raise(above ? "accepted-above-shipped" : "accepted-below-shipped", id, made.date,
              {{kind::acceptance, made.entry}},
              fmt::format("The processor accepted {} of shipment {}; by its bales' tickets {} were shipped, net of "
                          "what was rejected; the tolerance is {} %.",
                          shown(made.accepted_weight), id, shown(shipped), quantity::shortest_text(percent)));
    }
}

} // namespace tarewell::reconcile
