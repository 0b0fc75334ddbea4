#include "records/confirmation.hpp"

#include "records/fields.hpp"

namespace tarewell::records {
namespace {

using a = fields_of<confirmation>;
constexpr std::string_view thing_words[] = {"ticket", "registration"};

kind kind_confirmed(const row& values) { return values["confirms"] == thing_words[0] ? kind::ticket : kind::cover; }

kind named_by(const confirmation& made) {
    return made.confirms == confirmation::thing::ticket ? kind::ticket : kind::cover;
}

bool read_id(confirmation& into, std::string_view text, const season& among) {
    into.id = text;
    return among.defines(named_by(into), text);
}

bool recall_id(confirmation& into, std::uint32_t number, coded_column& from, const season& /*among*/) {
    into.id = from.ids->texts(named_by(into))[number];
    return from.ids->place_of(named_by(into), number) != season::nowhere;
}

constexpr field<confirmation> id_field() {
    field<confirmation> made{{"record", column_type::id, true}, &read_id, &recall_id};
    made.told.names_by = &kind_confirmed;
    return made;
}

constexpr field<confirmation> fields[] = {
    a::one_of<&confirmation::confirms, thing_words>("confirms").required(),
    id_field(),
    a::text<&confirmation::why>("seen").required(),
};

} // namespace

constinit const kind_info confirmation_kind = kind_made<confirmation, fields, no_numbers<confirmation>>(
    {kind::confirmation, "confirmation", "confirmations", "confirms", "record", {}, belongs::to_nothing});
constinit const coded_kind confirmation_coded = coded_made<confirmation, fields, no_numbers<confirmation>>(kind::confirmation);

void check(const confirmation& made, const season& before, complaints& say) {
    const auto named = named_by(made);
    if (!before.defines(named, made.id)) say.undefined("record", named);
}

void admit(confirmation&& made, season& to) { to.confirmations.push_back(std::move(made)); }

} // namespace tarewell::records
