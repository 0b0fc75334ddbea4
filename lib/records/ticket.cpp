#include "records/ticket.hpp"

#include "records/billionths.hpp"
#include "records/fields.hpp"

#include <fmt/format.h>

namespace tarewell::records {
namespace {

using a = fields_of<ticket>;
constexpr std::string_view weighs_words[] = {"bundle", "bale", "load"};
constexpr std::string_view entry_words[] = {"printed", "manual"};
constexpr std::string_view yes_words[] = {"yes", "no"};

template <class Find> bool name_subject(ticket& into, Find&& place_in) {
    switch (into.weighs) {
    case subject::bundle:
        into.bundle = bundle_place{place_in(kind::bundle)};
        return bool{into.bundle};
    case subject::bale:
        into.bale = bale_place{place_in(kind::bale)};
        return bool{into.bale};
    case subject::load:
        into.load = shipment_place{place_in(kind::shipment)};
        return bool{into.load};
    }
    return false;
}

bool read_subject(ticket& into, std::string_view text, const season& among) {
    return name_subject(into, [&](kind which) { return among.place_of(which, text); });
}

bool recall_subject(ticket& into, std::uint32_t number, coded_column& from, const season& /*among*/) {
    return name_subject(into, [&](kind which) { return from.ids->place_of(which, number); });
}

bool read_as_printed(ticket& into, std::string_view text, const season& /*among*/) {
    into.as_printed = text == "yes";
    return true;
}

kind kind_weighed(const row& values) {
    const auto weighs = values["weighs"];
    return weighs == weighs_words[0] ? kind::bundle : weighs == weighs_words[1] ? kind::bale : kind::shipment;
}

constexpr field<ticket> subject_field() {
    field<ticket> made{{"subject", column_type::id, true}, &read_subject, &recall_subject};
    made.told.names_by = &kind_weighed;
    return made;
}

constexpr field<ticket> fields[] = {
    a::id<&ticket::id>("ticket").required(),
    a::date<&ticket::date>("date").required(),
    a::names<&ticket::scale>("scale").required(),
    a::one_of<&ticket::weighs, weighs_words>("weighs").required(),
    subject_field(),
    a::number<&ticket::gross>("gross", column_type::nonnegative),
    a::number<&ticket::tare>("tare", column_type::nonnegative),
    a::number<&ticket::net>("net", column_type::positive).required(),
    a::one_of<&ticket::unit, unit_words>("unit").required(),
    a::unkept("weigher", column_type::text),
    a::one_of<&ticket::manual, entry_words>("entry").required(),
    {{"as_printed", column_type::word, false, yes_words}, &read_as_printed},
    a::text<&ticket::document>("document"),
};
constexpr whole_field<ticket> numbers[] = {a::weight<&ticket::net_weight>("net_thousandths", "net", "unit")};

} // namespace

constinit const kind_info ticket_kind =
    kind_made<ticket, fields, numbers>({kind::ticket, "ticket", "tickets", "ticket", {}, "date"});
constinit const coded_kind ticket_coded = coded_made<ticket, fields, numbers>(kind::ticket);

void check(const ticket& made, const season& /*before*/, complaints& say) {
    constexpr kind named[] = {kind::bundle, kind::bale, kind::shipment};
    if (!made.bundle && !made.bale && !made.load)
        say.undefined("subject", named[static_cast<std::size_t>(made.weighs)], " or weighs");
    if (!made.gross || !made.tare || made.as_printed) return;
    const auto difference = billionths(*made.gross) - billionths(*made.tare);
    if (difference == billionths(made.net)) return;
    say.say("net",
            fmt::format("{} is not gross {} less tare {}, which is {}", say.written("net"), say.written("gross"),
                        say.written("tare"), quantity::shortest_text({static_cast<std::int64_t>(difference), 9})),
            "mend the number, or write yes in as_printed if the ticket prints it so");
}

void admit(ticket&& made, season& to) {
    to.learn(kind::ticket, made.id, to.tickets.size());
    to.tickets.push_back(std::move(made));
}

} // namespace tarewell::records
