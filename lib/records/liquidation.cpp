#include "records/liquidation.hpp"

#include "records/fields.hpp"

#include <fmt/format.h>

namespace tarewell::records {
namespace {

using a = fields_of<liquidation>;
constexpr field<liquidation> fields[] = {
    a::id<&liquidation::id>("liquidation").required(),
    a::date<&liquidation::date>("date").required(),
    a::names_a<&liquidation::obligation, kind::obligation>("obligation").required().together().looked_at(),
    a::unkept("amount", column_type::amount).required(),
    a::names_a<&liquidation::cost, kind::cost>("cost").looked_at(),
};
constexpr whole_field<liquidation> numbers[] = {a::cents<&liquidation::amount>("amount_cents", "amount")};

} // namespace

constinit const kind_info liquidation_kind = kind_made<liquidation, fields, numbers>(
    {kind::liquidation, "liquidation", "liquidations", "liquidation", {}, "date"});
constinit const coded_kind liquidation_coded = coded_made<liquidation, fields, numbers>(kind::liquidation);

void check(const liquidation& made, const season& before, complaints& say) {
    const auto& owed = before.obligations[made.obligation];
    if (!made.cost.empty() && before.costs[*before.find_cost(made.cost)].fund != owed.fund)
        return say.say(
            "cost",
            fmt::format("cost {} and obligation {} are not on the same fund", quoted(made.cost), quoted(owed.id)),
            "an obligation on the grant is paid by a cost on the grant, one on match by a cost on match");
    const auto left = owed.amount - owed.liquidated;
    if (quantity::money_from(quantity::decimal_of(say.written("amount"))) <= left) return;
    say.say("amount",
            fmt::format("{} is more than the {} that obligation {} has left", say.written("amount"),
                        quantity::text_of(left), quoted(owed.id)),
            "an obligation is paid or let go up to its amount; mend the amount, or correct the obligation");
}

void admit(liquidation&& made, season& to) {
    to.obligations[made.obligation].liquidated += made.amount;
    to.liquidations.push_back(std::move(made));
}

} // namespace tarewell::records
