#include "figures/make_columns.hpp"
#include "figures/table_maker.hpp"

#include "figures/flags.hpp"
#include "grant/account.hpp"
#include "reconcile/days.hpp"

#include <algorithm>

namespace tarewell::figures {

using namespace records; // NOLINT

namespace {

cell maybe(const std::optional<day>& given) { return given ? cell{*given} : cell{}; }

cell maybe_text(const std::string& given) { return given.empty() ? cell{} : cell{given}; }

std::string name_of_subject(const season& of, const ticket& weighed) {
    switch (weighed.weighs) {
    case subject::bundle:
        return of.at(weighed.bundle).id.text();
    case subject::bale:
        return of.at(weighed.bale).id.text();
    case subject::load:
        return of.at(weighed.load).id.text();
    }
    return {};
}

const char* name_of_kind(subject of) {
    return of == subject::bundle ? "bundle" : of == subject::bale ? "bale" : "load";
}

} // namespace

table table_maker::tickets() const {
    table made{"Tickets",
               "Every active scale ticket, as written and in the award's unit.",
               {words("ticket", "Ticket"),
                date_column("date", "Date"),
                words("scale", "Scale"),
                words("weighs", "Weighs"),
                words("subject", "Subject"),
                words("gross", "Gross as written"),
                words("tare", "Tare as written"),
                words("net_as_written", "Net as written"),
                words("unit", "Unit as written"),
                {"net", "Net in the award's unit", content::heft, false},
                words("entry", "Printed or by hand"),
                words("decides", "Used for")},
               {}};
    for (const auto& each : s_.tickets)
        made.rows.push_back(ticket_row(each));
    return made;
}

std::vector<cell> table_maker::ticket_row(const ticket& each) const {
    const auto index = static_cast<std::size_t>(&each - s_.tickets.data());
    std::string decides = "check weight";
    if (each.weighs == subject::bundle) {
        decides = r_.at(each.bundle).spot_ticket == index ? "the bundle's share" : "nothing";
    } else if (each.weighs == subject::bale) {
        const auto& weighed = r_.at(each.bale).weighed;
        if (weighed && weighed->ticket == index) decides = "the bale's weight";
    } else if (std::find(r_.check_tickets.begin(), r_.check_tickets.end(), index) == r_.check_tickets.end()) {
        decides = "the weight of bales without a ticket";
    }
    const auto written = [](const std::optional<decimal>& given) {
        return given ? cell{quantity::shortest_text(*given)} : cell{};
    };
    return {each.id,
            each.date,
            s_.at(each.scale).id.text(),
            std::string{name_of_kind(each.weighs)},
            name_of_subject(s_, each),
            written(each.gross),
            written(each.tare),
            quantity::shortest_text(each.net),
            std::string{quantity::name_of(each.unit)},
            each.net_weight,
            std::string{each.manual ? "by hand" : "printed"},
            decides};
}

table table_maker::receipts() const {
    table made{"Receipts",
               "Every active receipt.",
               {words("receipt", "Receipt"), date_column("date", "Date"), words("site", "Site"),
                words("bundle", "Bundle"), words("outcome", "Outcome"), words("reason", "Reason")},
               {}};
    for (const auto& each : s_.receipts)
        made.rows.push_back(row_of(each.id, each.date, s_.at(each.site).id.text(), s_.at(each.bundle).id.text(),
                                   std::string{each.outcome == outcome::accepted   ? "accepted"
                                               : each.outcome == outcome::rejected ? "rejected"
                                                                                   : "held"},
                                   maybe_text(each.reason)));
    return made;
}

table table_maker::rejects() const {
    table made{"Rejects",
               "Every active reject; residue is weight deducted from a weighed bale, counted on the day shown.",
               {words("reject", "Reject"),
                date_column("date", "Date"),
                words("stage", "Stage"),
                words("bundle", "Bundle"),
                words("bale", "Bale"),
                words("reason", "Reason"),
                words("disposition", "What became of it"),
                {"weight", "Weight given", content::heft, false},
                heft("residue", "Residue"),
                date_column("counted_on", "Deduction date"),
                date_column("bale_counted_on", "Its bale counted on")},
               {}};
    std::vector<const reconcile::residue*> residue_of(s_.rejects.size());
    for (const auto& each : r_.residues)
        residue_of[each.reject] = &each;
    for (std::size_t i = 0; i < s_.rejects.size(); ++i) {
        const auto& each = s_.rejects[i];
        std::optional<day> counted_on, bale_counted_on;
        if (residue_of[i] != nullptr) {
            counted_on = reconcile::counted_on(s_, r_, *residue_of[i]);
            bale_counted_on = reconcile::counted_on(s_, r_, residue_of[i]->bale);
        }
        made.rows.push_back(row_of(each.id, each.date,
                                   std::string{each.stage == stage::site    ? "site"
                                               : each.stage == stage::baler ? "baler"
                                                                            : "processor"},
                                   each.bundle ? cell{s_.at(each.bundle).id.text()} : cell{},
                                   each.bale ? cell{s_.at(each.bale).id.text()} : cell{}, each.reason,
                                   maybe_text(each.disposition),
                                   each.rejected_weight ? cell{*each.rejected_weight} : cell{},
                                   residue_of[i] != nullptr ? cell{residue_of[i]->counted} : cell{}, maybe(counted_on),
                                   maybe(bale_counted_on)));
    }
    return made;
}

table table_maker::acceptances() const {
    table made{"Acceptances",
               "What processors accepted, by shipment, beside what was shipped by the bales' tickets less what was "
               "rejected of it, and what they received and rejected by their own scale.",
               {words("shipment", "Shipment"), date_column("date", "Accepted on"),
                date_column("shipped_on", "Shipped on"), words("processor", "Processor"),
                heft("weight", "Weight accepted"), heft("shipped", "Shipped by tickets"),
                heft("received", "Received by processor"), heft("rejected", "Rejected by processor")},
               {}};
    for (const auto& each : s_.acceptances) {
        const auto by_their_scale = [&](const std::optional<quantity::decimal>& given) {
            return given ? cell{quantity::weight_from(*given, each.unit, s_.the_award->unit)} : cell{};
        };
        const auto shipped = reconcile::shipped_weight(s_, r_, each);
        made.rows.push_back(row_of(s_.at(each.shipment).id.text(), each.date, s_.at(each.shipment).date,
                                   s_.at(each.shipment).processor, each.accepted_weight,
                                   shipped ? cell{*shipped} : cell{}, by_their_scale(each.received),
                                   by_their_scale(each.rejected)));
    }
    return made;
}

table table_maker::costs() const {
    table made{"Costs",
               "Every active cost, on the grant and on match.",
               {words("cost", "Cost"), date_column("date", "Incurred on"), words("category", "Category"),
                words("description", "Description"), words("fund", "Fund"), words("source", "Source"),
                words("subaward", "Subaward"), date_column("paid_on", "Paid on"), dollars("amount", "Amount"),
                words("base", "Indirect base"), words("purpose", "Purpose"), words("site", "Site")},
               {}};
    for (const auto& each : s_.costs)
        made.rows.push_back(row_of(each.id, each.date, each.category, each.description,
                                   std::string{each.fund == fund::grant ? "grant" : "match"}, maybe_text(each.source),
                                   maybe_text(each.subaward), maybe(each.paid_on), each.amount,
                                   each.fund != fund::grant  ? cell{}
                                   : grant::is_in_base(each) ? cell{"in"}
                                                             : cell{"out"},
                                   maybe_text(each.purpose), each.site ? cell{s_.at(each.site).id.text()} : cell{}));
    return made;
}

table table_maker::inkind() const {
    table made{"In-kind",
               "Every active in-kind contribution, at its rate.",
               {words("inkind", "In-kind"), date_column("date", "Date"), words("kind", "Kind"),
                words("giver", "Contributor"), words("site", "Site"), words("source", "Source"),
                words("quantity", "Quantity"), words("rate", "Rate"), dollars("value", "Value"),
                words("category", "Object class"), words("purpose", "Purpose")},
               {}};
    for (const auto& each : s_.gifts)
        made.rows.push_back(row_of(each.id, each.date, each.kind, each.giver,
                                   each.site ? cell{s_.at(each.site).id.text()} : cell{}, maybe_text(each.source),
                                   quantity::shortest_text(each.quantity), quantity::shortest_text(each.rate),
                                   each.value, maybe_text(each.category), maybe_text(each.purpose)));
    return made;
}

table table_maker::budget() const {
    table made{"Budget",
               "The award's budget by object class, and what costs and contributions name that class by the quarter's "
               "last day.",
               {words("category", "Category"), dollars("grant", "Grant budget"),
                dollars("grant_spent", "Costs on grant"), dollars("match", "Match budget"),
                dollars("match_spent", "Match of the class")},
               {}};
    for (const auto& line : s_.budget_on(on_.days.to)) {
        money on_grant, on_match;
        for (const auto& cost : s_.costs)
            if (cost.category == line.category && cost.date <= on_.days.to)
                (cost.fund == fund::grant ? on_grant : on_match) += cost.amount;
        for (const auto& gift : s_.gifts)
            if (gift.category == line.category && gift.date <= on_.days.to) on_match += gift.value;
        made.rows.push_back(row_of(line.category, line.grant, on_grant, line.match, on_match));
    }
    return made;
}

table table_maker::flags() const {
    table made{"Flags",
               "What a reviewer would ask about in the quarter. Flagged rows count in every figure.",
               {words("flag", "Flag"), words("stops", "Level"), date_column("date", "Date"), words("subject", "About"),
                words("sentence", "What was found"), words("rows", "Ledger rows")},
               {}};
    for (const auto& each : reconcile::flags_in(flags_of(s_, r_), on_.days)) {
        std::string rows;
        for (const auto& row : each.rows)
            rows += (rows.empty() ? "" : ", ") + std::string{info(row.which).name} + " " + std::to_string(row.entry);
        made.rows.push_back(row_of(std::string{each.code}, std::string{name_of(reconcile::level_of(each.code))},
                                   each.on, each.subject, each.sentence, rows));
    }
    return made;
}

} // namespace tarewell::figures
