#include "records/rebudget.hpp"

#include "records/fields.hpp"

namespace tarewell::records {
namespace {

using a = fields_of<rebudget>;
constexpr field<rebudget> fields[] = {
    a::names_a<&rebudget::amendment, kind::amendment>("amendment").required(),
    a::one_of<&rebudget::category, category_words>("category").required(),
    a::unkept("grant", column_type::amount).required(),
    a::unkept("match", column_type::amount).required(),
};
constexpr whole_field<rebudget> numbers[] = {
    a::cents<&rebudget::grant>("grant_cents", "grant"),
    a::cents<&rebudget::match>("match_cents", "match"),
};

} // namespace

constinit const kind_info rebudget_kind = kind_made<rebudget, fields, numbers>(
    {kind::rebudget, "rebudget", "rebudgets", "amendment", "category", {}, belongs::to_the_award});
constinit const coded_kind rebudget_coded = coded_made<rebudget, fields, numbers>(kind::rebudget);

void admit(rebudget&& made, season& to) { to.rebudgets.push_back(std::move(made)); }

} // namespace tarewell::records
