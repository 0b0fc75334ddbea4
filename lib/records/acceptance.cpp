#include "records/acceptance.hpp"

#include "records/billionths.hpp"
#include "records/fields.hpp"

#include <fmt/format.h>

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

void check(const acceptance& made, const season& /*before*/, complaints& say) {
    if (!made.received || !made.rejected) return;
    const auto difference = billionths(*made.received) - billionths(*made.rejected);
    const auto accepted = quantity::decimal_of(say.written("weight"));
    if (difference == billionths(accepted)) return;
    say.say("weight",
            fmt::format("{} is not received {} less rejected {}, which is {}", say.written("weight"),
                        say.written("received"), say.written("rejected"),
                        quantity::shortest_text({static_cast<std::int64_t>(difference), 9})),
            "mend the number that the settlement prints otherwise");
}

void admit(acceptance&& made, season& to) {
    to.shipments[made.shipment.index()].accepted_on = made.date;
    to.acceptances.push_back(made);
}

} // namespace tarewell::records
