#include "records/cost.hpp"

#include "records/fields.hpp"

namespace tarewell::records {
namespace {

using a = fields_of<cost>;
constexpr std::string_view in_or_out[] = {"in", "out"};

bool read_base(cost& into, std::string_view text, const season& /*among*/) {
    into.in_base = text == "in";
    return true;
}

constexpr field<cost> fields[] = {
    a::id<&cost::id>("cost").required(),
    a::date<&cost::date>("date").required(),
    a::one_of<&cost::category, category_words>("category").required(),
    a::text<&cost::description>("description").required(),
    a::text<&cost::payee>("payee"),
    a::unkept("amount", column_type::credit).required(),
    a::one_of<&cost::fund, fund_words>("fund").required(),
    a::text<&cost::source>("source"),
    a::id<&cost::subaward>("subaward"),
    a::date<&cost::paid_on>("paid_on"),
    a::text<&cost::document>("document"),
    field<cost>{{"base", column_type::word, false, in_or_out}, &read_base}.later(),
    a::one_of<&cost::purpose, purpose_words>("purpose").later(),
    a::names<&cost::site>("site").later(),
    a::names<&cost::shipment>("shipment").later(),
};
constexpr whole_field<cost> numbers[] = {a::cents<&cost::amount>("amount_cents", "amount")};

} // namespace

constinit const kind_info cost_kind =
    kind_made<cost, fields, numbers>({kind::cost, "cost", "costs", "cost", {}, "date"});

void check(const cost& made, const season& before, complaints& say) {
    if (made.category != "indirect" || !before.the_award->indirect_percent) return;
    say.say("category", "indirect costs are worked out from the award's indirect_percent",
            "leave the row out, or use a direct category");
}

void admit(cost&& made, season& to) {
    to.learn(kind::cost, made.id, to.costs.size());
    to.costs.push_back(std::move(made));
}

} // namespace tarewell::records
