#include "records/obligation.hpp"

#include "records/fields.hpp"

namespace tarewell::records {
namespace {

using a = fields_of<obligation>;
constexpr field<obligation> fields[] = {
    a::id<&obligation::id>("obligation").required(),
    a::date<&obligation::date>("date").required(),
    a::one_of<&obligation::category, category_words>("category").required(),
    a::text<&obligation::description>("description").required(),
    a::unkept("payee", column_type::text),
    a::unkept("amount", column_type::amount).required(),
    a::one_of<&obligation::fund, fund_words>("fund").required(),
    a::text<&obligation::has_document>("document"),
};
constexpr whole_field<obligation> numbers[] = {a::cents<&obligation::amount>("amount_cents", "amount")};

} // namespace

constinit const kind_info obligation_kind =
    kind_made<obligation, fields, numbers>({kind::obligation, "obligation", "obligations", "obligation", {}, "date"});
constinit const coded_kind obligation_coded = coded_made<obligation, fields, numbers>(kind::obligation);

void admit(obligation&& made, season& to) {
    to.learn(kind::obligation, made.id, to.obligations.size());
    to.obligations.push_back(std::move(made));
}

} // namespace tarewell::records
