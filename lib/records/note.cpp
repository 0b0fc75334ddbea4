#include "records/note.hpp"

#include "records/fields.hpp"

#include <fmt/format.h>

namespace tarewell::records {
namespace {

using a = fields_of<note>;
constexpr field<note> fields[] = {
    a::id<&note::period>("quarter").required(),
    a::id<&note::part>("part").required(),
    a::text<&note::text>("text").required(),
};

} // namespace

constinit const kind_info note_kind =
    kind_made<note, fields, no_numbers<note>>({kind::note, "narrative", "narrative", "quarter", "part"});
constinit const coded_kind note_coded = coded_made<note, fields, no_numbers<note>>(kind::note);

void check(const note& /*made*/, const season& /*before*/, complaints& say) {
    if (quantity::read_period(say.written("quarter"))) return;
    say.say("quarter", fmt::format("{} is no period", quoted(say.written("quarter"))), quantity::periods_in_words);
}

void admit(note&& made, season& to) { to.notes.push_back(std::move(made)); }

} // namespace tarewell::records
