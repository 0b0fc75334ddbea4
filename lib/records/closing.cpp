#include "records/closing.hpp"

#include "records/fields.hpp"

namespace tarewell::records {
namespace {

using a = fields_of<closing>;
constexpr field<closing> fields[] = {
    a::id<&closing::period>("quarter").required(),
    a::number<&closing::as_of>("as_of", column_type::count).required(),
    a::id<&closing::head_hash>("head_hash").required(),
    a::text<&closing::prepared_by>("prepared_by").required(),
    a::text<&closing::reviewed_by>("reviewed_by").required(),
    a::text<&closing::certified_by>("certified_by").required(),
    a::text<&closing::accepted>("accepted"),
    a::text<&closing::figures>("figures").required(),
    a::text<&closing::early>("early").later(),
    a::text<&closing::withdrawn>("withdrawn").later(),
    a::text<&closing::over_open>("over_open").later(),
};

} // namespace

constinit const kind_info closing_kind = kind_made<closing, fields, no_numbers<closing>>(
    {kind::closing, "closing", "closings", "quarter", {}, {}, belongs::to_the_program});
constinit const coded_kind closing_coded = coded_made<closing, fields, no_numbers<closing>>(kind::closing);

void admit(closing&& made, season& to) { to.closings.push_back(std::move(made)); }

} // namespace tarewell::records
