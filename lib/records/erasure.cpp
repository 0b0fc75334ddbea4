#include "records/erasure.hpp"

#include "records/fields.hpp"

namespace tarewell::records {
namespace {

using a = fields_of<erasure>;
constexpr field<erasure> fields[] = {
    a::names<&erasure::grower>("grower").required(),
    a::unkept("entries", column_type::text).required(),
};

} // namespace

constinit const kind_info erasure_kind = kind_made<erasure, fields, no_numbers<erasure>>(
    {kind::erasure, "erasure", "erasures", "grower", {}, {}, belongs::to_the_program});

void admit(erasure&& /*made*/, season& /*to*/) {}

} // namespace tarewell::records
