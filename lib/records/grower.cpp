#include "records/grower.hpp"

#include "records/fields.hpp"

#include <fmt/format.h>

namespace tarewell::records {
namespace {

using a = fields_of<grower>;
constexpr field<grower> fields[] = {
    a::id<&grower::id>("grower").required(),     a::text<&grower::name>("name").required().personal(),
    a::text<&grower::farm>("farm").personal(),   a::text<&grower::town>("town"),
    a::id<&grower::region>("region").required(), a::text<&grower::email>("email").personal(),
    a::text<&grower::phone>("phone").personal(),
};

} // namespace

constinit const kind_info grower_kind =
    kind_made<grower, fields, no_numbers<grower>>({kind::grower, "grower", "growers", "grower"});
constinit const coded_kind grower_coded = coded_made<grower, fields, no_numbers<grower>>(kind::grower);

void check(const grower& made, const season& before, complaints& say) {
    const auto& region = before.the_award->region;
    if (made.id.text() == unknown_grower || made.region == region) return;
    say.say("region", fmt::format("{} is not the award's region", quoted(made.region)),
            fmt::format("the program serves growers of {}", quoted(region)));
}

void admit(grower&& made, season& to) {
    if (made.id.text() == unknown_grower) return; // built in
    made.erased = made.name.empty();
    to.keep(kind::grower, to.growers, std::move(made));
}

} // namespace tarewell::records
