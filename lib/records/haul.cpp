#include "records/haul.hpp"

#include "records/fields.hpp"

#include <fmt/format.h>

namespace tarewell::records {
namespace {

using a = fields_of<haul_row>;
constexpr field<haul_row> fields[] = {
    a::id<&haul_row::haul>("haul").required().shared(),    a::date<&haul_row::date>("date").required().shared(),
    a::names<&haul_row::from>("from").required().shared(), a::names<&haul_row::to>("to").required().shared(),
    a::names<&haul_row::bundle>("bundle").required(),      a::text<&haul_row::driver>("driver").shared(),
};

} // namespace

constinit const kind_info haul_kind = kind_made<haul_row, fields, no_numbers<haul_row>>(
    {kind::haul, "haul", "hauls", "haul", "bundle", "date", belongs::beside_the_award});
constinit const coded_kind haul_coded = coded_made<haul_row, fields, no_numbers<haul_row>>(kind::haul);

void check(const haul_row& made, const season& before, complaints& say) {
    const auto first = before.place_of(kind::haul, made.haul);
    if (first == season::nowhere) return;
    const auto& known = before.hauls[first];
    const auto record = fmt::format("haul {}", made.haul);
    say.agrees("date", quantity::text_of(known.date), record);
    say.agrees("from", before.at(known.from).id.text(), record);
    say.agrees("to", before.at(known.to).id.text(), record);
    say.agrees("driver", known.driver, record);
}

void admit(haul_row&& made, season& to) {
    to.learn(kind::haul, made.haul, to.hauls.size());
    to.hauls.push_back(std::move(made));
}

} // namespace tarewell::records
