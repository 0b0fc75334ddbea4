#include "records/scale.hpp"

#include "records/fields.hpp"

#include <fmt/format.h>

namespace tarewell::records {
namespace {

using a = fields_of<scale>;
constexpr field<scale> fields[] = {
    a::id<&scale::id>("scale").required(),
    a::text<&scale::location>("location"),
    a::text<&scale::class_name>("class").required(),
    a::number<&scale::capacity>("capacity", column_type::positive).required(),
    a::number<&scale::division>("division", column_type::positive).required(),
    a::one_of<&scale::unit, unit_words>("unit").required(),
    a::date<&scale::certified_on>("certified_on"),
    a::date<&scale::certified_until>("certified_until"),
};

} // namespace

constinit const kind_info scale_kind = kind_made<scale, fields, no_numbers<scale>>(
    {kind::scale, "scale", "scales", "scale", {}, "certified_on", belongs::beside_the_award});
constinit const coded_kind scale_coded = coded_made<scale, fields, no_numbers<scale>>(kind::scale);

void check(const scale& made, const season& /*before*/, complaints& say) {
    if (!made.certified_on || !made.certified_until || *made.certified_on <= *made.certified_until) return;
    say.say("certified_until", fmt::format("{} is before certified_on", quantity::text_of(*made.certified_until)),
            "a certificate ends after it begins");
}

void admit(scale&& made, season& to) { to.keep(kind::scale, to.scales, std::move(made)); }

} // namespace tarewell::records
