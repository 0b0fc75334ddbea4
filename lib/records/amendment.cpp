#include "records/amendment.hpp"

#include "records/fields.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <limits>
#include <tuple>

namespace tarewell::records {
namespace {

using a = fields_of<amendment>;

bool read_base(amendment& into, std::string_view text, const season& /*among*/) {
    into.base = base_of(text);
    return true;
}

constexpr field<amendment> fields[] = {
    a::id<&amendment::id>("amendment").required(),
    a::date<&amendment::date>("date").required(),
    a::date<&amendment::ends>("ends"),
    a::number<&amendment::goal_tons>("goal_tons", column_type::nonnegative),
    a::number<&amendment::match_percent>("match_percent", column_type::nonnegative),
    {{"match_base", column_type::word, false, base_words}, &read_base},
    a::number<&amendment::indirect_percent>("indirect_percent", column_type::nonnegative),
    a::text<&amendment::why>("description").required(),
    a::unkept("document", column_type::text),
};

constexpr kind_info made() {
    auto info = kind_made<amendment, fields, no_numbers<amendment>>(
        {kind::amendment, "amendment", "amendments", "amendment", {}, "date", belongs::to_the_award});
    info.moves_all = true;
    return info;
}

} // namespace

constinit const kind_info amendment_kind = made();
constinit const coded_kind amendment_coded = coded_made<amendment, fields, no_numbers<amendment>>(kind::amendment);

void check(const amendment& made, const season& before, complaints& say) {
    season terms_alone;
    terms_alone.the_award = before.the_award;
    terms_alone.amendments = before.amendments;
    amendment last = made;
    last.order = std::numeric_limits<entry_no>::max();
    admit(std::move(last), terms_alone);
    // Its own date, and those of later ones that build on it.
    for (const auto& each : terms_alone.amendments) {
        const auto terms = terms_alone.terms_on(each.date);
        if (terms.ends < terms.begins)
            return say.say("ends", fmt::format("{} is before the award begins", say.written("ends")),
                           "an award ends after it begins");
        if (!terms.match_percent) continue;
        if (terms.base == match_base::none)
            return say.say("match_base", "is empty although match_percent is given, and the award has none",
                           "say what the percent is of: total or grant");
        if (takes_all(terms))
            return say.say("match_percent",
                           fmt::format("{} percent of the total leaves nothing for the grant",
                                       quantity::shortest_text(*terms.match_percent)),
                           "a match on the total is below 100");
    }
}

void admit(amendment&& made, season& to) {
    const auto after =
        std::upper_bound(to.amendments.begin(), to.amendments.end(), made, [](const auto& a, const auto& b) {
            return std::tie(a.date, a.order) < std::tie(b.date, b.order);
        });
    to.learn(kind::amendment, made.id, 0);
    to.amendments.insert(after, std::move(made));
}

} // namespace tarewell::records
