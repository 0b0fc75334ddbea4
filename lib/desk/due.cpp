#include "desk/due.hpp"

#include "desk/due_groups.hpp"

namespace tarewell::desk {

std::string days_in_words(std::int64_t days) { return counted(static_cast<std::size_t>(days), "day", "days"); }

std::string weight_in_words(const season_view& seen, quantity::weight of) {
    return fmt::format("{} {}", quantity::shortest_text({of.count(), 3}), seen.unit());
}

std::vector<due_group> waited_for(const season_view& seen, day on) {
    static_cast<void>(seen.award());
    std::vector<due_group> groups{
        reports_due(seen, on),          doubts_that_block(seen),       costs_not_claimed(seen, on),
        bundles_not_received(seen, on), bales_not_weighed(seen, on),   loads_not_accepted(seen, on),
        papers_missing(seen),           sites_near_capacity(seen, on), registrations_without_sizes(seen)};
    std::erase_if(groups, [](const auto& each) { return each.items.empty(); });
    return groups;
}

answer due(const season_view& seen, day on) {
    constexpr std::size_t enough = 10;
    answer made;
    made.data = {{"on", on}, {"as_of", seen.as_of}};
    auto& told = made.data["groups"] = value::array();
    for (const auto& group : waited_for(seen, on)) {
        auto items = value::array();
        made.say("{}{} ({})\n", told.empty() ? "" : "\n", group.heading, group.items.size());
        std::size_t shown = 0;
        for (const auto& each : group.items) {
            auto item = each.data;
            item["sentence"] = each.sentence;
            item["command"] = each.command;
            items.push_back(std::move(item));
            if (!each.is_pressing || shown == enough) continue;
            ++shown;
            made.say("  {}\n      {}\n", each.sentence, each.command);
        }
        if (shown < group.items.size())
            made.say("  and {} more{}\n", group.items.size() - shown, shown == enough ? "" : ", none of them late");
        told.push_back({{"name", group.name}, {"heading", group.heading}, {"items", std::move(items)}});
    }
    if (told.empty()) made.say("nothing is waited for on {}\n", quantity::text_of(on));
    return made;
}

} // namespace tarewell::desk
