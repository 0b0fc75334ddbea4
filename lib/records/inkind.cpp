#include "records/inkind.hpp"

#include "records/fields.hpp"

#include <fmt/format.h>

namespace tarewell::records {
namespace {

using a = fields_of<inkind>;
constexpr field<inkind> fields[] = {
    a::id<&inkind::id>("inkind").required(),
    a::date<&inkind::date>("date").required(),
    a::one_of<&inkind::kind, inkind_words>("kind").required(),
    a::text<&inkind::giver>("giver").required(),
    a::names<&inkind::site>("site"),
    a::text<&inkind::source>("source"),
    a::number<&inkind::quantity>("quantity", column_type::nonnegative).required(),
    a::number<&inkind::rate>("rate", column_type::nonnegative).required(),
    a::unkept("amount", column_type::amount),
    a::text<&inkind::has_document>("document"),
    a::one_of<&inkind::category, category_words>("category").later(),
    a::one_of<&inkind::purpose, purpose_words>("purpose").later(),
};
constexpr whole_field<inkind> numbers[] = {
    a::cents_or_product<&inkind::value>("value_cents", "amount", "quantity", "rate"),
};

} // namespace

constinit const kind_info inkind_kind =
    kind_made<inkind, fields, numbers>({kind::inkind, "inkind", "inkind", "inkind", {}, "date"});
constinit const coded_kind inkind_coded = coded_made<inkind, fields, numbers>(kind::inkind);

void check(const inkind& made, const season& /*before*/, complaints& say) {
    if (say.given("amount") ||
        is_within([&] { return quantity::money_from_rate(made.quantity, made.rate).count(); }, most_cents))
        return;
    say.say(
        "quantity",
        fmt::format("{} at a rate of {} passes what a ledger can hold", say.written("quantity"), say.written("rate")),
        "an amount is at most 999999999.99; mend quantity or rate");
}

void admit(inkind&& made, season& to) { to.gifts.push_back(std::move(made)); }

} // namespace tarewell::records
