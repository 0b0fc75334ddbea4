#include "audit_view.hpp"
#include "command_audit.hpp"
#include "text_table.hpp"

#include <fmt/format.h>

#include <ostream>

namespace tarewell::cli {
namespace {

using json = nlohmann::ordered_json;

struct options {
    audit_request request;
    int weigh = 10;
    std::string goal = "total";
};

std::string closing_sentence(const audit_view& seen, const std::vector<audit::weigh_choice>& chosen,
                             const options& how) {
    if (!seen.fitted())
        return "What to weigh next can't be worked out yet: " + seen.reason() +
               " Until then any bundle tells something.";
    if (chosen.empty()) return "No bundle is on hand unpressed, so there is nothing to weigh alone.";
    const double before = chosen.front().sd_before, after = chosen.back().sd_after;
    const auto gain = how.goal == "total" ? fmt::format("Weighing these alone brings the standard deviation of the "
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

void run_next(const options& how, context& with) {
    const auto seen = view_audit(how.request, with);
    const auto goal = how.goal == "total" ? audit::weigh_goal::total : audit::weigh_goal::growers;
    const auto chosen = choose(seen, how.weigh, goal);
    const auto sentence = closing_sentence(seen, chosen, how);
    const auto& season = seen.seen.season;
    text_table table{
        {"bundle", "grower", "received at", "claim", "basis", how.goal == "total" ? "sd after" : "spread after"}};
    auto list = json::array();
    for (const auto& each : chosen) {
        const auto place = seen.input.bundles[static_cast<std::size_t>(each.bundle)];
        const auto& bundle = seen.input.season.bundles[static_cast<std::size_t>(each.bundle)];
        const auto& outcome = seen.seen.reckoning.at(place);
        const auto claim = quantity::text_of(outcome.claim.estimate);
        table.add({season.at(place).id.text(), seen.grower_id(bundle.grower), seen.site_id(bundle.site), claim,
                   std::string{records::name_of(outcome.claim.basis)},
                   fmt::format("{:.{}f}", each.sd_after, goal == audit::weigh_goal::total ? 1 : 4)});
        json made{{"bundle", season.at(place).id.text()},
                  {"grower", seen.grower_id(bundle.grower)},
                  {"site", seen.site_id(bundle.site)},
                  {"estimate", claim}};
        made["sd_before"] = number(each.sd_before);
        made["sd_after"] = number(each.sd_after);
        list.push_back(std::move(made));
    }
    if (how.request.json) {
        auto made = seen.head();
        made["for"] = how.goal;
        made["weigh"] = how.weigh;
        made["bundles"] = std::move(list);
        if (!seen.fitted()) made["reason"] = seen.reason();
        made["sentence"] = sentence;
        with.out << made.dump(2) << '\n';
        return;
    }
    with.out << fmt::format("Bundles on hand to weigh alone next, the most telling first, for {}; {}.\n\n",
                            how.goal == "total" ? "the total" : "telling growers apart", seen.days_in_words());
    if (!chosen.empty()) table.print(with.out);
    with.out << (chosen.empty() ? "" : "\n") << sentence << '\n';
}

} // namespace

void add_audit_next(const command& audit, context& with) {
    auto sub = audit.add("next", "which bundles on hand to weigh alone next, and what that gains");
    auto& how = audit.keep<options>();
    add_audit_options(sub, how.request);
    sub.value("--weigh", how.weigh, "how many bundles").between(1, 10'000).shows_default();
    sub.value("--for", how.goal, "total: the weight on hand; growers: telling growers apart")
        .one_of({"total", "growers"})
        .shows_default();
    sub.does([&how, &with] { run_next(how, with); });
}

} // namespace tarewell::cli
