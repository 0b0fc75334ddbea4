// One grower under two ids, and one printed ticket under two.
#include "reconcile/flag_maker.hpp"
#include "records/letters.hpp"

#include <fmt/format.h>

#include <map>

namespace tarewell::reconcile {

using namespace records; // NOLINT

/// The sentence names the growers by their ids alone: it is read by others too.
void flag_maker::look_at_growers() {
    std::vector<std::optional<day>> first_day(s_.growers.size());
    for (const auto& each : s_.registrations) {
        auto& first = first_day[each.grower.index()];
        if (!first || each.date < *first) first = each.date;
    }
    std::map<std::pair<const char*, std::string>, std::size_t> known;
    for (std::size_t i = 1; i < s_.growers.size(); ++i) {
        if (s_.counts_as(grower_place{i}) != grower_place{i}) continue; // known to be another
        const auto& each = s_.growers[i];
        for (const auto& [what, text] : {std::pair{"name", letters_of(each.name)},
                                         {"e-mail address", letters_of(each.email)},
                                         {"telephone number", letters_of(each.phone)}}) {
            if (text.empty()) continue;
            const auto [other, fresh] = known.emplace(std::pair{what, text}, i);
            if (fresh) continue;
            const auto& first = s_.growers[other->second];
            raise("grower-twice", each.id.text(), first_day[i].value_or(s_.the_award->begins),
                  {{kind::grower, each.entry}, {kind::grower, first.entry}},
                  fmt::format("Growers {} and {} have one {}; are they one grower?", first.id.text(), each.id.text(),
                              what));
            break;
        }
    }
}

void flag_maker::look_at_same_paper() {
    std::map<std::pair<scale_place, std::string>, const ticket*> known;
    for (const auto& each : s_.tickets) {
        if (each.document.empty()) continue;
        const auto [first, fresh] = known.emplace(std::pair{each.scale, each.document}, &each);
        if (!fresh)
            raise("ticket-twice", each.id, each.date,
                  {{kind::ticket, each.entry}, {kind::ticket, first->second->entry}},
                  fmt::format("Tickets {} and {} are both number {} of scale {}.", first->second->id, each.id,
                              each.document, s_.at(each.scale).id.text()));
    }
}

} // namespace tarewell::reconcile
