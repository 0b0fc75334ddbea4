#include "records/cost.hpp"

#include "records/fields.hpp"

#include <fmt/format.h>

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
    a::names_a<&cost::disallows, kind::cost>("disallows").later().looked_at(),
};
constexpr whole_field<cost> numbers[] = {a::cents<&cost::amount>("amount_cents", "amount")};

} // namespace

constinit const kind_info cost_kind =
    kind_made<cost, fields, numbers>({kind::cost, "cost", "costs", "cost", {}, "date"});
constinit const coded_kind cost_coded = coded_made<cost, fields, numbers>(kind::cost);

namespace {

/// A cost that the agency disallows is taken back, whole or in part, by a credit of its own that names it.
void check_disallowed(const cost& made, const cost& taken_back, complaints& say) {
    const auto record = fmt::format("cost {}", taken_back.id);
    if (made.id == taken_back.id)
        return say.say("disallows", "is the row's own cost", "name the cost that the agency disallowed");
    if (taken_back.disallows)
        say.say("disallows", fmt::format("{} is such a credit itself", record), "name the cost that was disallowed");
    if (!say.written("amount").starts_with('-'))
        say.say("amount", fmt::format("is not below 0 although the row takes back {}", record),
                "a disallowed cost is taken back by a credit, such as -120.00");
    say.agrees("category", taken_back.category, record);
    say.agrees("fund", std::string{fund_words[static_cast<std::size_t>(taken_back.fund)]}, record);
}

} // namespace

void check(const cost& made, const season& before, complaints& say) {
    if (made.disallows) check_disallowed(made, before.costs[*made.disallows], say);
    if (made.category != "indirect" || !before.the_award->indirect_percent) return;
    say.say("category", "indirect costs are worked out from the award's indirect_percent",
            "leave the row out, or use a direct category");
}

void admit(cost&& made, season& to) {
    to.learn(kind::cost, made.id, to.costs.size());
    to.costs.push_back(std::move(made));
}

} // namespace tarewell::records
