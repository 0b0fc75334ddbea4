#include "records/award.hpp"

#include "records/fields.hpp"

#include <fmt/format.h>

namespace tarewell::records {
namespace {

using a = fields_of<award>;
constexpr std::string_view counted_words[] = {"weighed", "shipped", "accepted"};
bool read_base(award& into, std::string_view text, const season& /*among*/) {
    into.base = base_of(text);
    return true;
}

constexpr field<award> fields[] = {
    a::id<&award::id>("award").required(),
    a::text<&award::agency>("agency").required(),
    a::text<&award::program>("program").required(),
    a::id<&award::region>("region").required(),
    a::date<&award::begins>("begins").required(),
    a::date<&award::ends>("ends").required(),
    a::number<&award::goal_tons>("goal_tons", column_type::nonnegative).required(),
    a::number<&award::quarter_starts>("quarter_starts", column_type::month).required(),
    a::one_of<&award::unit, unit_words>("unit").required(),
    a::number<&award::match_percent>("match_percent", column_type::nonnegative),
    {{"match_base", column_type::word, false, base_words}, &read_base},
    a::number<&award::indirect_percent>("indirect_percent", column_type::nonnegative),
    a::one_of<&award::counted_when, counted_words>("counted_when"),
};

constexpr kind_info made() {
    auto info = kind_made<award, fields, no_numbers<award>>(
        {kind::award, "award", "award", "award", {}, "begins", belongs::beside_the_award});
    info.moves_all = true;
    return info;
}

} // namespace

constinit const kind_info award_kind = made();
constinit const coded_kind award_coded = coded_made<award, fields, no_numbers<award>>(kind::award);

void check(const award& terms, const season& before, complaints& say) {
    if (before.the_award && before.the_award->id != terms.id)
        say.say("award", fmt::format("the ledger already holds award {}", quoted(before.the_award->id)),
                "keep one ledger for each award");
    if (terms.ends < terms.begins)
        say.say("ends", fmt::format("{} is before the award begins", quantity::text_of(terms.ends)),
                "an award ends after it begins");
    if (terms.match_percent && terms.base == match_base::none)
        say.say("match_base", "is empty although match_percent is given", "say what the percent is of: total or grant");
    if (takes_all(terms))
        say.say("match_percent",
                quoted(say.written("match_percent")) + " percent of the total leaves nothing for the grant",
                "a match on the total is below 100");
}

bool takes_all(const award& terms) {
    return terms.match_percent && terms.base == match_base::total &&
           terms.match_percent->mantissa >= 100 * quantity::power_of_ten(terms.match_percent->scale);
}

match_base base_of(std::string_view text) { return text == "total" ? match_base::total : match_base::grant; }

void admit(award&& terms, season& to) { to.the_award = std::move(terms); }

} // namespace tarewell::records
