#include "records/income.hpp"

#include "records/fields.hpp"

#include <fmt/format.h>

namespace tarewell::records {
namespace {

using a = fields_of<income>;
constexpr std::string_view income_words[] = {"earned", "spent"};
constexpr std::string_view method_words[] = {"deduction", "addition", "match"};

bool read_kind(income& into, std::string_view text, const season& /*among*/) {
    into.earned = text == "earned";
    return true;
}

constexpr field<income> fields[] = {
    a::id<&income::id>("income").required(),
    a::date<&income::date>("date").required(),
    {{"kind", column_type::word, true, income_words}, &read_kind},
    a::one_of<&income::method, method_words>("method").required(),
    a::text<&income::description>("description").required(),
    a::text<&income::party>("party"),
    a::unkept("amount", column_type::amount).required(),
    a::names_a<&income::cost, kind::cost>("cost").looked_at(),
    a::text<&income::document>("document"),
    a::names<&income::shipment>("shipment").later(),
};
constexpr whole_field<income> numbers[] = {a::cents<&income::amount>("amount_cents", "amount")};

} // namespace

constinit const kind_info income_kind =
    kind_made<income, fields, numbers>({kind::income, "income", "income", "income", {}, "date"});
constinit const coded_kind income_coded = coded_made<income, fields, numbers>(kind::income);

void check(const income& made, const season& before, complaints& say) {
    if (made.shipment && !made.earned)
        say.say("shipment", "is given although the income is spent",
                "only income that was earned comes of a shipment; leave it empty");
    if (made.cost.empty()) return;
    if (made.earned)
        return say.say("cost", "is given although the income is earned",
                       "only income that was spent names the cost that it paid");
    if (made.method == income_method::match && before.costs[*before.find_cost(made.cost)].fund == fund::grant)
        say.say("cost", fmt::format("cost {} is on the grant", quoted(made.cost)),
                "income spent as match pays a cost on match; leave the cost empty, or mend method or cost");
}

void admit(income&& made, season& to) { to.incomes.push_back(std::move(made)); }

} // namespace tarewell::records
