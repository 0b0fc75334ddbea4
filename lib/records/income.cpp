#include "records/income.hpp"

#include "records/fields.hpp"

namespace tarewell::records {
namespace {

using a = fields_of<income>;
constexpr std::string_view income_words[] = {"earned", "spent"};
constexpr std::string_view method_words[] = {"deduction", "addition"};

bool read_kind(income& into, std::string_view text, const season& /*among*/) {
    into.earned = text == "earned";
    return true;
}

bool read_method(income& into, std::string_view text, const season& /*among*/) {
    into.deducts = text == "deduction";
    return true;
}

constexpr field<income> fields[] = {
    a::id<&income::id>("income").required(),
    a::date<&income::date>("date").required(),
    {{"kind", column_type::word, true, income_words}, &read_kind},
    {{"method", column_type::word, true, method_words}, &read_method},
    a::text<&income::description>("description").required(),
    a::unkept("party", column_type::text),
    a::unkept("amount", column_type::amount).required(),
    a::names_a<&income::cost, kind::cost>("cost"),
    a::text<&income::has_document>("document"),
};
constexpr whole_field<income> numbers[] = {a::cents<&income::amount>("amount_cents", "amount")};

} // namespace

constinit const kind_info income_kind =
    kind_made<income, fields, numbers>({kind::income, "income", "income", "income", {}, "date"});

void check(const income& made, const season& /*before*/, complaints& say) {
    if (made.cost.empty() || !made.earned) return;
    say.say("cost", "is given although the income is earned", "only income that was spent names the cost that it paid");
}

void admit(income&& made, season& to) { to.incomes.push_back(std::move(made)); }

} // namespace tarewell::records
