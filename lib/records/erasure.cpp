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
constinit const coded_kind erasure_coded = coded_made<erasure, fields, no_numbers<erasure>>(kind::erasure);

std::vector<entry_no> forgotten_by(const row& erasure) {
    std::vector<entry_no> entries;
    const auto text = erasure["entries"];
    for (std::size_t at = 0; at < text.size();) {
        const auto end = std::min(text.find(' ', at), text.size());
        entries.push_back(std::stoll(std::string{text.substr(at, end - at)}));
        at = end + 1;
    }
    return entries;
}

void admit(erasure&& /*made*/, season& /*to*/) {}

} // namespace tarewell::records
