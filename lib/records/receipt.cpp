#include "records/receipt.hpp"

#include "records/fields.hpp"

#include <fmt/format.h>

namespace tarewell::records {
namespace {

using a = fields_of<receipt>;
constexpr std::string_view outcome_words[] = {"accepted", "rejected", "held"};

/// With the registration, the number names the bundle where its id doesn't.
bool read_number(receipt& into, std::string_view text, const season& among) {
    if (!into.bundle && into.registration) into.bundle = among.find_bundle(into.registration, whole_of(text));
    return bool{into.bundle};
}

constexpr field<receipt> fields[] = {
    a::id<&receipt::id>("receipt").required(),
    a::date<&receipt::date>("date").required(),
    a::names<&receipt::site>("site").required(),
    a::names<&receipt::bundle>("bundle").together().looked_at(),
    a::names<&receipt::registration>("registration").together().looked_at(),
    {{"number", column_type::count}, &read_number},
    a::one_of<&receipt::outcome, outcome_words>("outcome").required(),
    a::text<&receipt::reason>("reason"),
    a::text<&receipt::disposition>("disposition"),
    a::unkept("received_by", column_type::text),
};

/// Says what is wrong with how the receipt names its bundle; true when nothing is.
bool names_a_bundle(const receipt& made, complaints& say) {
    if (!say.given("bundle") && !say.given("registration") && !say.given("number")) {
        say.say("bundle", "is empty, and so are registration and number",
                "name the bundle, or the registration and number on its label");
        return false;
    }
    const bool by_label = !say.given("bundle") || (say.given("number") && !say.given("registration"));
    if (by_label && !(say.given("registration") && say.given("number"))) {
        say.say(say.given("registration") ? "number" : "registration", "is empty although its partner is given",
                "give both registration and number, or the bundle");
        return false;
    }
    if (made.bundle) return true;
    // The bundle's own row may have been refused; its label can't be known then.
    if (say.refused_any(kind::bundle))
        say.not_to_blame();
    else
        say.say("number",
                fmt::format("registration {} has no bundle number {}", quoted(say.written("registration")),
                            say.written("number")),
                "mend the label's registration or number, or take in its row of bundles.csv first");
    return false;
}

} // namespace

constinit const kind_info receipt_kind =
    kind_made<receipt, fields, no_numbers<receipt>>({kind::receipt, "receipt", "receipts", "receipt", {}, "date"});
constinit const coded_kind receipt_coded = coded_made<receipt, fields, no_numbers<receipt>>(kind::receipt);

void check(const receipt& made, const season& before, complaints& say) {
    if (!names_a_bundle(made, say)) return;
    const auto& named = before.at(made.bundle);
    const auto disagrees = [&](std::string_view column, const std::string& what) {
        say.say(column, fmt::format("bundle {} is {}", quoted(say.written("bundle")), what),
                "name the bundle or its label; where both are given they agree");
    };
    if (say.given("bundle") && made.registration && made.registration != named.registration)
        return disagrees("registration",
                         fmt::format("of registration {}, not {}", quoted(before.at(named.registration).id.text()),
                                     quoted(say.written("registration"))));
    if (say.given("bundle") && say.given("number") && named.number != whole_of(say.written("number")))
        return disagrees("number", fmt::format("number {}, not {}", named.number, say.written("number")));
    if (made.outcome == outcome::accepted && named.accepted)
        say.say(say.given("bundle") ? "bundle" : "number",
                fmt::format("bundle {} was accepted before", quoted(named.id.text())),
                "a bundle is accepted once; mend the id, or correct the earlier receipt");
}

void admit(receipt&& made, season& to) {
    if (made.outcome == outcome::accepted) to.bundles[made.bundle.index()].accepted = true;
    to.receipts.push_back(std::move(made));
}

} // namespace tarewell::records
