#include "figures/period_tables.hpp"

#include "figures/cost_steps.hpp"
#include "figures/make_columns.hpp"
#include "figures/pace.hpp"
#include "figures/quarters_across.hpp"

#include <fmt/format.h>

namespace tarewell::figures {
namespace {

table_column ratio(std::string name, std::string heading) {
    return {std::move(name), std::move(heading), content::ratio, false};
}

cell maybe(const std::optional<real>& of) { return of ? cell{*of} : cell{}; }

std::vector<table_column> cost_columns(table_column first) {
    return {std::move(first),
            dollars("grant", "Grant"),
            dollars("match", "Match, costs"),
            dollars("in_kind", "In-kind"),
            dollars("total", "Total"),
            ratio("per_ton", "Dollars a ton"),
            ratio("hours", "Volunteers' hours"),
            ratio("hours_per_ton", "Hours a ton")};
}

std::vector<cell> cost_row(std::string name, const cost_line& of) {
    return row_of(std::move(name), of.grant, of.match, of.in_kind, of.total(), maybe(of.per_ton), of.hours,
                  maybe(of.hours_per_ton));
}

table by_purpose(const cost_steps& of) {
    table made{
        "Costs by purpose",
        "What the quarter cost by what it was for, each expense once: the sum is direct costs on the grant, indirect "
        "costs claimed and match. A ton is one of those diverted. Empty where no cost says what it is for.",
        cost_columns(words("purpose", "For")),
        {}};
    for (const auto& each : of.any_said ? of.purposes : std::vector<cost_line>{})
        made.rows.push_back(cost_row(each.heading, each));
    return made;
}

table by_site(const cost_steps& of) {
    table made{
        "Costs by site",
        "What the quarter cost by the site named, each expense once. A ton is one by the scale of what was accepted "
        "there, in bales weighed in the quarter.",
        cost_columns(words("site", "Site")),
        {}};
    made.columns.insert(made.columns.begin() + 1, words("name", "Name"));
    made.columns.push_back(heft("collected", "Weighed of the site's bundles"));
    for (const auto& each : of.sites) {
        auto row = cost_row(each.name, each);
        row.insert(row.begin() + 1, each.heading);
        row.emplace_back(each.collected);
        made.rows.push_back(std::move(row));
    }
    return made;
}

table goal_and_pace(const records::season& season, const reconcile::reckoning& reckoned, const report& of) {
    table made{"Goal and pace",
               "How far the award is toward its goal, and what the rest asks for.",
               {words("what", "What"), ratio("value", "Value"), words("unit", "Unit"), words("how", "How")},
               {}};
    const auto pace = pace_of(season, reckoned, of);
    const auto through = quantity::text_of(pace.through), last = quantity::text_of(of.basis.days.to);
    const auto add = [&](const char* what, const std::optional<real>& value, const char* unit, std::string how) {
        made.rows.push_back(row_of(std::string{what}, maybe(value), std::string{unit}, std::move(how)));
    };
    add("Goal", pace.goal, "tons", "the award's, as amended by " + last);
    add("Diverted to date", pace.to_date, "tons", "through " + last);
    add("Left to the goal", pace.left, "tons", "goal less diverted to date");
    add("Days of the award gone", pace.days_gone, "days",
        fmt::format("through {}, of {} in all", through, pace.days_in_all));
    add("Share of its days gone", pace.elapsed_share, "ratio", "days gone over all days");
    add("Quarters left", pace.quarters_left, "quarters", "of the award that end after " + through);
    add("Needed in each quarter left", pace.needed_a_quarter, "tons", "left to the goal over quarters left");
    add("Tons each quarter so far", pace.so_far_a_quarter, "tons",
        "at this pace by the end, over the award's quarters");
    add("At this pace by the award's end", pace.at_this_pace, "tons", "diverted to date over the share of days gone");
    return made;
}

table stands_for(const records::season& season, const report& of) {
    table made{"Equivalents",
               "What the tons diverted in the quarter stand for, each by a factor whose source is named.",
               {words("what", "What"), ratio("value", "Value"), words("unit", "Unit"), words("source", "By"),
                words("caution", "Caution")},
               {}};
    for (const auto& each : equivalents_of(season, of).shown) {
        auto value = std::visit([](const auto& known) { return cell{known}; }, each.value);
        made.rows.push_back(row_of(each.what, std::move(value), each.unit, each.source, each.caution));
    }
    return made;
}

table quarters(const records::season& season, const reconcile::reckoning& reckoned, const report& of) {
    table made{"Quarters",
               "Every figure of every quarter of the period: as filed, what changed since, and as it is now; last, the "
               "period's own. What sums comes to it.",
               {words("figure", "Figure"), words("unit", "Unit"), words("quarter", "Of"), words("state", "State"),
                words("filed", "Filed"), words("changed", "Changed since"), words("now", "Now"),
                words("across", "How they go together")},
               {}};
    if (of.basis.period.is_quarter() || of.figures.empty()) return made;
    const auto across = quarters_side_by_side(season, reckoned, of);
    for (const auto& line : across.lines) {
        const auto text = [&](const value& value) { return shown(value, line.of->unit); };
        const auto how = in_words(line.how, of.basis.period);
        for (const auto& each : across.columns) {
            const bool filed = each.closed != nullptr;
            const auto &now = each.now_of(line.of->name), &then = each.shown_of(line.of->name);
            made.rows.push_back(row_of(line.of->name, line.of->unit, each.name, std::string{filed ? "filed" : "open"},
                                       filed ? cell{text(then)} : cell{},
                                       filed ? cell{text(difference_of(now, then))} : cell{}, text(now), how));
        }
        made.rows.push_back(row_of(line.of->name, line.of->unit, text_of(of.basis.period),
                                   std::string{of.basis.closed ? "filed" : "open"}, cell{}, text(line.changed),
                                   text(line.of->value), how));
    }
    return made;
}

} // namespace

std::vector<table> period_tables(const records::season& season, const reconcile::reckoning& reckoned,
                                 const report& of) {
    const auto costs = cost_steps_of(season, reckoned, of);
    std::vector<table> made;
    made.push_back(by_purpose(costs));
    made.push_back(by_site(costs));
    made.push_back(goal_and_pace(season, reckoned, of));
    made.push_back(stands_for(season, of));
    for (auto& each : made)
        say_of(of.basis.period, each);
    made.push_back(quarters(season, reckoned, of));
    return made;
}

} // namespace tarewell::figures
