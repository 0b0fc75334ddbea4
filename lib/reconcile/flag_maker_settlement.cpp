#include "quantity/dollars.hpp"
#include "reconcile/flag_maker.hpp"
#include "reconcile/settlements.hpp"

#include <fmt/format.h>

#include <map>

namespace tarewell::reconcile {

using quantity::dollars;
using namespace records; // NOLINT

/// What a processor's scale, its price and its invoice say beside the ledger's own.
void flag_maker::look_at_settlements() {
    for (const auto& each : settlements_of(s_, r_)) {
        if (each.accepted == nullptr) continue;
        look_at_received(each);
        look_at_settled(each);
    }
    look_at_income_twice();
}

void flag_maker::look_at_received(const settlement& of) {
    if (!of.received || of.unweighed > 0) return;
    const auto& made = *of.accepted;
    const auto percent = s_.number_on("acceptance_tolerance_percent", made.date);
    const auto apart = *of.received - of.shipped;
    if (!quantity::is_over_percent(std::abs(apart.count()), of.shipped.count(), percent)) return;
    const auto& id = s_.at(of.shipment).id.text();
    raise("received-off-shipped", id, made.date, {{kind::acceptance, made.entry}},
          fmt::format("The processor's scale says {} of shipment {}, and its bales' tickets {}; the tolerance is {} %.",
                      shown(*of.received), id, shown(of.shipped), quantity::shortest_text(percent)));
}

void flag_maker::look_at_settled(const settlement& of) {
    if (!of.asked) return;
    const auto& made = *of.accepted;
    const auto& id = s_.at(of.shipment).id.text();
    const auto product = fmt::format(
        "${} per {} x {} {} is {}", quantity::shortest_text(made.price ? *made.price : *made.charge), name_of(made.per),
        quantity::shortest_text(made.written_weight), name_of(made.unit), dollars(*of.asked));
    std::vector<row_ref> rows{{kind::acceptance, made.entry}};
    if (of.is_open())
        return raise("not-settled", id, made.date, std::move(rows),
                     fmt::format("Shipment {}: {}, and no {} is recorded for it.", id, product,
                                 made.charge ? "cost" : "income"));
    if (of.settled() == *of.asked) return;
    for (const auto* each : of.incomes)
        rows.push_back({kind::income, each->entry});
    for (const auto* each : of.costs)
        rows.push_back({kind::cost, each->entry});
    raise("settlement-off", id, made.date, std::move(rows),
          fmt::format("Shipment {}: {}, and {} is recorded as {}.", id, product, dollars(of.settled()),
                      made.charge ? "its processor's charge" : "income of it"));
}

/// The same payment recorded twice: one party, document and amount.
void flag_maker::look_at_income_twice() {
    std::map<std::tuple<std::string, std::string, std::int64_t>, const income*> known;
    for (const auto& each : s_.incomes) {
        if (!each.earned || each.party.empty() || each.document.empty()) continue;
        const auto [first, fresh] = known.emplace(
            std::tuple{processor_key(each.party), processor_key(each.document), each.amount.count()}, &each);
        if (!fresh)
            raise("income-twice", each.id, each.date,
                  {{kind::income, each.entry}, {kind::income, first->second->entry}},
                  fmt::format("Income {} says what {} says: {} of {}, document {}.", each.id, first->second->id,
                              dollars(each.amount), each.party, each.document));
    }
}

} // namespace tarewell::reconcile
