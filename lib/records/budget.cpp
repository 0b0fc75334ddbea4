#include "records/budget.hpp"

#include "records/fields.hpp"

namespace tarewell::records {
namespace {

using a = fields_of<budget_line>;
constexpr field<budget_line> fields[] = {
    a::one_of<&budget_line::category, category_words>("category").required(),
    a::unkept("grant", column_type::amount).required(),
    a::unkept("match", column_type::amount).required(),
};
constexpr whole_field<budget_line> numbers[] = {
    a::cents<&budget_line::grant>("grant_cents", "grant"),
    a::cents<&budget_line::match>("match_cents", "match"),
};

} // namespace

constinit const kind_info budget_kind = kind_made<budget_line, fields, numbers>(
    {kind::budget, "budget", "budget", "category", {}, {}, belongs::beside_the_award});
constinit const coded_kind budget_coded = coded_made<budget_line, fields, numbers>(kind::budget);

void admit(budget_line&& line, season& to) { to.budget.push_back(std::move(line)); }

} // namespace tarewell::records
