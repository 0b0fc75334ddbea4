#include "records/merge.hpp"

#include "records/fields.hpp"

#include <fmt/format.h>

namespace tarewell::records {
namespace {

using a = fields_of<merge>;
constexpr field<merge> fields[] = {
    a::names<&merge::grower>("grower").required(),
    a::names<&merge::into>("into").required(),
    a::text<&merge::reason>("reason").required(),
};

constexpr kind_info made() {
    auto info = kind_made<merge, fields, no_numbers<merge>>(
        {kind::merge, "merge", "merges", "grower", {}, {}, belongs::to_nothing});
    info.seen_whole = true; // a circle may run through any of them
    return info;
}

} // namespace

constinit const kind_info merge_kind = made();
constinit const coded_kind merge_coded = coded_made<merge, fields, no_numbers<merge>>(kind::merge);

void check(const merge& made, const season& before, complaints& say) {
    for (const auto column : {"grower", "into"})
        if (say.written(column) == unknown_grower)
            say.say(column, "is nobody: bundles without a label are of many growers",
                    "give its bundles a grower by correcting their registration");
    for (const auto& [column, grower] : {std::pair{"grower", made.grower}, std::pair{"into", made.into}})
        if (grower && before.at(grower).erased)
            say.say(column, fmt::format("names {}, whose details were erased on request", quoted(say.written(column))),
                    "leave the two apart: nobody can say any more that they are one person");
    if (made.grower == made.into)
        say.say("into", fmt::format("{} is the grower itself", quoted(say.written("into"))),
                "name the other id of the person");
    else if (before.counts_as(made.into) == made.grower)
        say.say("into", fmt::format("{} counts as {} already", quoted(say.written("into")), say.written("grower")),
                "one of the two is enough; see: tarewell list merges");
}

void admit(merge&& made, season& to) {
    to.merges.push_back(std::move(made));
    for (auto& each : to.registrations)
        each.grower = to.counts_as(each.written_for);
}

} // namespace tarewell::records
