#pragma once
#include "records/season.hpp"

#include <fmt/format.h>

#include <string>
#include <vector>

namespace tarewell::tests {

/// A whole season in words, a line for each record with every one of its members: two that say the same are the same.
class season_text {
  public:
    explicit season_text(const records::season& of) {
        using namespace records;
        if (of.the_award)
            line("award", *of.the_award, [&](const award& a) {
                say(a.id, a.agency, a.program, a.region, a.begins, a.ends, a.goal_tons, a.quarter_starts, a.unit,
                    a.match_percent, a.indirect_percent, a.base, a.counted_when);
            });
        life(of);
        paper(of);
        money_of(of);
        agency(of);
        for (const auto& each : of.days_of_entry)
            say("day", each.first, each.on), end();
        ids(of);
    }
    [[nodiscard]] const std::vector<std::string>& lines() const { return lines_; }

  private:
    std::string text_;
    std::vector<std::string> lines_;

    void put(const std::string& text) { text_ += text; }
    void put(const char* text) { text_ += text; }
    void put(records::day on) { text_ += quantity::text_of(on); }
    void put(const records::decimal& number) { text_ += fmt::format("{}e-{}", number.mantissa, number.scale); }
    void put(const quantity::period& period) { text_ += quantity::text_of(period); }
    void put(bool yes) { text_ += yes ? "yes" : "no"; }
    template <class Tag> void put(const quantity::id<Tag>& id) { text_ += id.text(); }
    template <class Tag> void put(quantity::place<Tag> place) {
        text_ += place ? "#" + std::to_string(place.index()) : std::string{"#none"};
    }
    template <class Unit> void put(quantity::whole<Unit> whole) { text_ += std::to_string(whole.count()); }
    template <class Number>
    requires std::is_integral_v<Number> || std::is_enum_v<Number>
    void put(Number number) { text_ += std::to_string(static_cast<std::int64_t>(number)); }
    template <class Value> void put(const std::optional<Value>& value) {
        if (value)
            put(*value);
        else
            text_ += "none";
    }
    template <class Value> void put(const std::vector<Value>& values) {
        for (const auto& each : values)
            put(each), text_ += ',';
    }
    template <class... Value> void say(const Value&... value) { ((put(value), text_ += '|'), ...); }
    void end() {
        lines_.push_back(std::move(text_));
        text_.clear();
    }
    template <class Record, class Body> void line(const char* kind, const Record& of, Body&& body) {
        say(kind);
        if constexpr (std::is_base_of_v<records::recorded, Record>) say(of.entry, of.order);
        body(of);
        end();
    }
    template <class Record, class Body> void all(const char* kind, const std::vector<Record>& of, Body&& body) {
        for (const auto& each : of)
            line(kind, each, body);
    }
    void put_length(const quantity::length& of) {
        say(static_cast<std::int64_t>(of.numerator), static_cast<std::int64_t>(of.denominator));
    }

    void life(const records::season& of) {
        using namespace records;
        all("site", of.sites, [&](const site& a) { say(a.id, a.name, a.town, a.host); });
        all("grower", of.growers,
            [&](const grower& a) { say(a.id, a.name, a.farm, a.town, a.region, a.email, a.phone, a.erased); });
        all("scale", of.scales, [&](const scale& a) {
            say(a.id, a.location, a.class_name, a.capacity, a.division, a.unit, a.certified_on, a.certified_until);
        });
        all("cover", of.covers, [&](const cover& a) {
            say(a.registration, a.id, a.structure, a.film, a.gives_thickness);
            if (!a.size) return;
            put_length(a.size->length), put_length(a.size->width);
            if (a.size->rise) put_length(*a.size->rise);
            say(a.size->layers, a.size->flat,
                a.size->thickness ? std::optional{a.size->thickness->value} : std::nullopt);
        });
        all("registration", of.registrations,
            [&](const registration& a) { say(a.id, a.date, a.grower, a.site, a.covers, a.bundles, a.written_for); });
        all("bundle", of.bundles, [&](const bundle& a) {
            say(a.id, a.registration, a.number, a.of, a.own_estimate, a.pressed_in, a.accepted);
        });
        all("receipt", of.receipts, [&](const receipt& a) {
            say(a.id, a.reason, a.disposition, a.date, a.site, a.bundle, a.registration, a.outcome);
        });
        all("haul", of.hauls, [&](const haul_row& a) { say(a.haul, a.driver, a.date, a.from, a.to, a.bundle); });
        all("bale row", of.bale_rows, [&](const bale_row& a) { say(a.bale, a.bundle); });
        all("bale", of.bales, [&](const bale& a) { say(a.id, a.date, a.site, a.bundles, a.first_row, a.loaded_in); });
        all("reject", of.rejects, [&](const reject& a) {
            say(a.id, a.reason, a.disposition, a.date, a.stage, a.bundle, a.bale, a.rejected_weight, a.has_document);
        });
    }

    void paper(const records::season& of) {
        using namespace records;
        all("shipment row", of.shipment_rows, [&](const shipment_row& a) { say(a.shipment, a.bale); });
        all("shipment", of.shipments, [&](const shipment& a) {
            say(a.id, a.date, a.processor, a.carrier, a.bill_of_lading, a.bales, a.accepted_on);
        });
        all("ticket", of.tickets, [&](const ticket& a) {
            say(a.id, a.document, a.date, a.scale, a.weighs, a.bundle, a.bale, a.load, a.gross, a.tare, a.net, a.unit,
                a.net_weight, a.as_printed, a.manual);
        });
        all("acceptance", of.acceptances, [&](const acceptance& a) {
            say(a.shipment, a.date, a.accepted_weight, a.written_weight, a.document, a.reason, a.unit, a.received,
                a.rejected, a.price, a.charge, a.per);
        });
        all("confirmation", of.confirmations, [&](const confirmation& a) { say(a.confirms, a.id, a.why); });
        all("map rule", of.map_rules, [&](const map_rule& a) { say(a.map, a.rule, a.value); });
        all("merge", of.merges, [&](const merge& a) { say(a.grower, a.into, a.reason); });
        all("closing", of.closings, [&](const closing& a) {
            say(a.period, a.as_of, a.head_hash, a.prepared_by, a.reviewed_by, a.certified_by, a.accepted, a.figures,
                a.early, a.withdrawn, a.over_open);
        });
        all("document", of.documents, [&](const document& a) { say(a.record, a.sha256, a.name, a.bytes); });
        all("note", of.notes, [&](const note& a) { say(a.period, a.part, a.text); });
        all("setting", of.settings, [&](const setting& a) { say(a.name, a.value, a.from); });
    }

    void money_of(const records::season& of) {
        using namespace records;
        all("budget", of.budget, [&](const budget_line& a) { say(a.category, a.grant, a.match); });
        all("cost", of.costs, [&](const cost& a) {
            say(a.id, a.category, a.description, a.payee, a.source, a.subaward, a.document, a.purpose, a.site, a.date,
                a.amount, a.fund, a.paid_on, a.shipment, a.in_base, a.claimed_in, a.disallows);
        });
        all("in kind", of.gifts, [&](const inkind& a) {
            say(a.id, a.kind, a.giver, a.source, a.date, a.site, a.quantity, a.rate, a.value, a.category, a.purpose,
                a.has_document);
        });
        all("rate", of.rates, [&](const rate& a) { say(a.id, a.kind, a.what, a.source, a.begins, a.value); });
    }

    void agency(const records::season& of) {
        using namespace records;
        all("amendment", of.amendments, [&](const amendment& a) {
            say(a.id, a.why, a.date, a.ends, a.goal_tons, a.match_percent, a.indirect_percent, a.base);
        });
        all("rebudget", of.rebudgets, [&](const rebudget& a) { say(a.amendment, a.category, a.grant, a.match); });
        all("obligation", of.obligations, [&](const obligation& a) {
            say(a.id, a.category, a.description, a.date, a.amount, a.fund, a.liquidated, a.has_document);
        });
        all("liquidation", of.liquidations,
            [&](const liquidation& a) { say(a.id, a.cost, a.date, a.obligation, a.amount); });
        all("income", of.incomes, [&](const income& a) {
            say(a.id, a.description, a.party, a.cost, a.document, a.date, a.earned, a.method, a.amount, a.shipment);
        });
        all("request", of.requests,
            [&](const request_row& a) { say(a.request, a.document, a.date, a.cost, a.indirect); });
        all("payment", of.payments,
            [&](const payment& a) { say(a.id, a.request, a.date, a.kind, a.amount, a.retained, a.has_document); });
    }

    /// Where ids and labels lead.
    void ids(const records::season& of) {
        using records::kind;
        const auto find = [&](kind which, const std::string& id) { say(id, of.place_of(which, id)), end(); };
        for (const auto& each : of.sites)
            find(kind::site, each.id.text());
        for (const auto& each : of.growers)
            find(kind::grower, each.id.text());
        for (const auto& each : of.registrations)
            find(kind::cover, each.id.text());
        for (const auto& each : of.bundles) {
            find(kind::bundle, each.id.text());
            say(of.find_bundle(each.registration, each.number)), end();
        }
        for (const auto& each : of.bales)
            find(kind::bale, each.id.text());
        for (const auto& each : of.shipments)
            find(kind::shipment, each.id.text());
        for (const auto& each : of.tickets)
            find(kind::ticket, each.id);
        for (const auto& each : of.costs)
            find(kind::cost, each.id);
        for (const auto& each : of.obligations)
            find(kind::obligation, each.id);
        for (const auto& each : of.amendments)
            find(kind::amendment, each.id);
        find(kind::bundle, "no such bundle");
        find(kind::ticket, "");
    }
};

} // namespace tarewell::tests
