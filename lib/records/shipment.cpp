#include "records/shipment.hpp"

#include "records/fields.hpp"

#include <fmt/format.h>

namespace tarewell::records {
namespace {

using a = fields_of<shipment_line>;
constexpr field<shipment_line> fields[] = {
    a::id<&shipment_line::id>("shipment").required().shared(),
    a::date<&shipment_line::date>("date").required().shared(),
    a::text<&shipment_line::processor>("processor").required().shared(),
    a::names<&shipment_row::bale>("bale").required().together(),
    a::text<&shipment_line::carrier>("carrier").shared(),
    a::text<&shipment_line::bill_of_lading>("bill_of_lading").shared(),
};

} // namespace

constinit const kind_info shipment_kind = kind_made<shipment_line, fields, no_numbers<shipment_line>>(
    {kind::shipment, "shipment", "shipments", "shipment", "bale", "date"});
constinit const coded_kind shipment_coded =
    coded_made<shipment_line, fields, no_numbers<shipment_line>>(kind::shipment);

void check(const shipment_line& line, const season& before, complaints& say) {
    if (const auto other = before.at(line.bale).loaded_in)
        say.say("bale",
                fmt::format("bale {} is in shipment {} already", quoted(say.written("bale")),
                            quoted(before.at(other).id.text())),
                "a bale is in one shipment; mend the id, or void the other row");
    const auto place = before.find_shipment(line.id.text());
    if (!place) return;
    const auto& known = before.at(place);
    const auto record = fmt::format("shipment {}", line.id.text());
    say.agrees("date", quantity::text_of(known.date), record);
    say.agrees("processor", known.processor, record);
    say.agrees("carrier", known.carrier, record);
    say.agrees("bill_of_lading", known.bill_of_lading, record);
}

void admit(shipment_line&& line, season& to) {
    line.shipment = shipment_place{own_place(to, kind::shipment, line.id.text())};
    if (!line.shipment) {
        line.shipment = shipment_place{to.shipments.size()};
        to.keep(kind::shipment, to.shipments,
                shipment{line.id, line.date, line.processor, line.carrier, line.bill_of_lading, {}, {}});
    }
    to.shipments[line.shipment.index()].bales.push_back(line.bale);
    to.bales[line.bale.index()].loaded_in = line.shipment;
    to.shipment_rows.push_back(line);
}

} // namespace tarewell::records
