#include "records/acceptance.hpp"

#include "records/fields.hpp"

namespace tarewell::records {
namespace {

using a = fields_of<acceptance>;
constexpr field<acceptance> fields[] = {
    a::names<&acceptance::shipment>("shipment").required(),
    a::date<&acceptance::date>("date").required(),
    a::unkept("weight", column_type::nonnegative).required(),
    a::one_of<&acceptance::unit, unit_words>("unit").required(),
    a::text<&acceptance::has_document>("document"),
    a::number<&acceptance::received>("received", column_type::nonnegative).later(),
    a::number<&acceptance::rejected>("rejected", column_type::nonnegative).later(),
};
constexpr whole_field<acceptance> numbers[] = {
    a::weight<&acceptance::accepted_weight>("weight_thousandths", "weight", "unit"),
};

} // namespace

constinit const kind_info acceptance_kind =
    kind_made<acceptance, fields, numbers>({kind::acceptance, "acceptance", "acceptances", "shipment", {}, "date"});

void admit(acceptance&& made, season& to) {
    to.shipments[made.shipment.index()].accepted_on = made.date;
    to.acceptances.push_back(made);
}

} // namespace tarewell::records
