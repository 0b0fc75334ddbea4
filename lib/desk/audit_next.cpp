#include "desk/audit.hpp"

namespace tarewell::desk {
namespace {

std::string closing_sentence(const audit_view& seen, const std::vector<audit::weigh_choice>& chosen,
                             const std::string& goal) {
    if (!seen.fitted())
        return "What to weigh next can't be worked out yet: " + seen.reason() +
               " Until then any bundle tells something.";
    if (chosen.empty()) return "No bundle is on hand unpressed, so there is nothing to weigh alone.";
    const double before = chosen.front().sd_before, after = chosen.back().sd_after;
    const auto gain = goal == "total" ? fmt::format("Weighing these alone brings the standard deviation of the "
                                                    "weight on hand (and not pressed) from {:.0f} to {:.0f} {}.",
                                                    before, after, seen.unit())
                                      : fmt::format("Weighing these alone brings the growers' typical uncertainty "
                                                    "(of weight over claim) from {:.3f} to {:.3f}.",
                                                    before, after);
    return gain +
           " The gain is what is expected; it can't be promised, since it rests on the scatter seen so far. Bundles "
           "that are pressed already are left out: they can only be weighed with their bale.";
}

/// Bundles that lie pressed in a bale on the last day can't be weighed alone.
bool is_pressed(const audit_view& seen, std::size_t bundle) {
    const auto& outcome = seen.seen.reckoning.at(seen.input.bundles[bundle]);
    return outcome.in_bale() && (!seen.days || seen.seen.season.at(outcome.bale).date <= seen.days->to);
}

/// Chosen among the bundles that can be weighed alone: those pressed get no claim, so that they tell nothing.
std::vector<audit::weigh_choice> choose(const audit_view& seen, int count, audit::weigh_goal goal) {
    auto season = seen.input.season;
    for (std::size_t b = 0; b < season.bundles.size(); ++b)
        if (season.bundles[b].bale < 0 && is_pressed(seen, b)) season.bundles[b].estimate = 0;
    const audit::pooled_model model{season, figures::audit_options()};
    auto chosen = model.weigh_next(count, goal);
    std::erase_if(
        chosen, [&](const auto& each) { return season.bundles[static_cast<std::size_t>(each.bundle)].estimate <= 0; });
    return chosen;
}

} // namespace

answer audit_next(const audit_view& seen, int count, const std::string& goal) {
    const bool total = goal == "total";
    const auto chosen = choose(seen, count, total ? audit::weigh_goal::total : audit::weigh_goal::growers);
    const auto sentence = closing_sentence(seen, chosen, goal);
    table bundles{{"bundle", "grower", "received at=site", "claim=estimate", "basis=", "=sd_before",
                   total ? "sd after=sd_after" : "spread after=sd_after"}};
    for (const auto& each : chosen) {
        const auto place = seen.input.bundles[static_cast<std::size_t>(each.bundle)];
        const auto& bundle = seen.input.season.bundles[static_cast<std::size_t>(each.bundle)];
        const auto& claim = seen.seen.reckoning.at(place).claim;
        bundles.add({seen.seen.season.at(place).id.text(), seen.grower_id(bundle.grower), seen.site_id(bundle.site),
                     claim.estimate, records::name_of(claim.basis), each.sd_before,
                     cell{fmt::format("{:.{}f}", each.sd_after, total ? 1 : 4), each.sd_after}});
    }
    answer made;
    made.data = seen.head();
    made.data["for"] = goal;
    made.data["weigh"] = count;
    made.data["bundles"] = bundles.rows();
    if (!seen.fitted()) made.data["reason"] = seen.reason();
    made.data["sentence"] = sentence;
    made.say("Bundles on hand to weigh alone next, the most telling first, for {}; {}.\n\n",
             total ? "the total" : "telling growers apart", seen.days_in_words());
    if (!chosen.empty()) made.show(bundles);
    made.say("{}{}\n", chosen.empty() ? "" : "\n", sentence);
    return made;
}

} // namespace tarewell::desk
