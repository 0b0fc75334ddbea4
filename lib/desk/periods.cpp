#include "desk/periods.hpp"

#include "desk/quarter.hpp"
#include "figures/cost_steps.hpp"
#include "figures/pace.hpp"
#include "figures/quarters_across.hpp"

namespace tarewell::desk {
namespace {

using figures::real;
using quantity::text_of;

value head_of(const quarter_seen& shown) {
    const auto& on = shown.report.basis;
    return {{"period", text_of(on.period)},
            {"from", on.days.from},
            {"to", on.days.to},
            {"as_of", on.as_of},
            {"closed", on.closed}};
}

void say_head(answer& to, const char* what, const quarter_seen& shown) {
    const auto& on = shown.report.basis;
    to.say("{} of {}, {} to {}, as of entry {}{}\n\n", what, quantity::title_of(on.period), text_of(on.days.from),
           text_of(on.days.to), on.as_of, on.closed ? ", closed" : "");
}

const char* state_of(const figures::quarter_column& column) { return column.closed != nullptr ? "filed" : "open"; }

value columns_for_machines(const figures::quarters_across& of) {
    auto list = value::array();
    for (const auto& each : of.columns)
        list.push_back({{"name", each.name},
                        {"from", each.days.from},
                        {"to", each.days.to},
                        {"state", state_of(each)},
                        {"filed_as_of", each.closed != nullptr ? value{each.closed->as_of} : value{}}});
    return list;
}

value line_for_machines(const figures::figure_across& line, const figures::quarters_across& of,
                        const quantity::period& period) {
    auto quarters = value::array();
    for (const auto& each : of.columns)
        quarters.push_back({{"filed", each.closed != nullptr ? value_of(each.shown_of(line.of->name)) : value{}},
                            {"now", value_of(each.now_of(line.of->name))}});
    return {{"name", line.of->name},
            {"unit", line.of->unit},
            {"quarters", std::move(quarters)},
            {"changed", value_of(line.changed)},
            {"value", value_of(line.of->value)},
            {"across", figures::in_words(line.how, period)}};
}

std::string dollars(const std::optional<real>& of) { return of ? fmt::format("{:.2f}", *of) : "-"; }
std::string tons(const std::optional<real>& of) { return of ? fmt::format("{:.4f}", *of) : "-"; }

cell number(const std::optional<real>& of, int places) {
    return {of ? fmt::format("{:.{}f}", *of, places) : "-", value{of}};
}

void add(table& to, const figures::cost_line& line) {
    to.add({cell{line.heading, line.name.empty() ? value{} : value{line.name}}, line.grant, line.match, line.in_kind,
            line.total(), number(line.per_ton, 2), cell{fmt::format("{:g}", line.hours), line.hours},
            number(line.hours_per_ton, 2)});
}

void say_next(answer& to, const figures::next_ton& next) {
    if (next.low == next.high && next.low)
        to.say("\nThe next ton: about ${}.\n", dollars(next.low));
    else if (next.low)
        to.say("\nThe next ton: from ${} to ${}.\n", dollars(next.low), dollars(next.high));
    else
        to.say("\nWhat the next ton would cost is not known: {}.\n", next.why_not);
    to.say("{}\n", figures::next_ton_in_words);
}

} // namespace

answer side_by_side(const quarter_seen& shown) {
    const auto& on = shown.report.basis;
    if (on.period.is_quarter())
        throw records::input_error(text_of(on.period) +
                                   " is one quarter; name a year, final or a span such as 2026-Q1..2026-Q3");
    const auto across = figures::quarters_side_by_side(shown.seen.season, shown.seen.reckoning, shown.report);
    answer made;
    made.data = head_of(shown);
    made.data["quarters"] = columns_for_machines(across);
    auto lines = value::array();
    std::vector<std::string> headings{"figure=", "unit="};
    for (const auto& each : across.columns)
        headings.push_back(fmt::format("{} {}=", each.name, state_of(each)));
    for (const auto* heading : {"changed since=", "all=", "how="})
        headings.emplace_back(heading);
    table rows{headings};
    for (const auto& line : across.lines) {
        const auto shown_in = [&](const figures::value& of) {
            const auto text = figures::shown(of, line.of->unit);
            return cell{text.empty() ? "-" : text, value{}};
        };
        std::vector<cell> cells{line.of->name, line.of->unit};
        for (const auto& each : across.columns)
            cells.push_back(shown_in(each.shown_of(line.of->name)));
        cells.push_back(std::holds_alternative<std::monostate>(line.changed) ? cell{"", value{}}
                                                                             : shown_in(line.changed));
        cells.push_back(shown_in(line.of->value));
        cells.emplace_back(figures::in_words(line.how, on.period));
        rows.add(std::move(cells));
        lines.push_back(line_for_machines(line, across, on.period));
    }
    made.data["figures"] = std::move(lines);
    say_head(made, "Quarters side by side", shown);
    made.show(rows);
    made.say(
        "\nWhere a line sums, its quarters and what changed since filing come to 'all'. Of a filed quarter the filed "
        "value is shown.\n");
    return made;
}

answer pace_of(const quarter_seen& shown) {
    const auto pace = figures::pace_of(shown.seen.season, shown.seen.reckoning, shown.report);
    const auto stands_for = figures::equivalents_of(shown.seen.season, shown.report);
    answer made;
    made.data = head_of(shown);
    made.data["pace"] = {{"through", pace.through},
                         {"days_gone", pace.days_gone},
                         {"days_in_all", pace.days_in_all},
                         {"elapsed_share", pace.elapsed_share},
                         {"goal_tons", pace.goal},
                         {"tons_to_date", pace.to_date},
                         {"tons_left", pace.left},
                         {"quarters_left", pace.quarters_left},
                         {"tons_needed_a_quarter", pace.needed_a_quarter},
                         {"tons_a_quarter_so_far", pace.so_far_a_quarter},
                         {"tons_at_this_pace", pace.at_this_pace}};
    say_head(made, "Goal and pace", shown);
    made.say("{:.4f} of {:g} tons by {}, {} of the award's {} gone ({:.1f} %)\n", pace.to_date, pace.goal,
             text_of(pace.through), pace.days_gone, counted(static_cast<std::size_t>(pace.days_in_all), "day", "days"),
             100 * pace.elapsed_share);
    made.say("left to the goal: {:.4f} tons; quarters that end after that day: {}; needed in each: {} tons\n",
             pace.left, pace.quarters_left, tons(pace.needed_a_quarter));
    made.say("so far a quarter: {} tons; at this pace by the award's end: {} tons\n", tons(pace.so_far_a_quarter),
             tons(pace.at_this_pace));
    auto list = value::array();
    made.say("\nWhat the {}'s tons stand for\n", shown.report.basis.period.word());
    for (const auto& each : stands_for.shown) {
        list.push_back({{"what", each.what},
                        {"value", value_of(each.value)},
                        {"unit", each.unit},
                        {"source", each.source},
                        {"caution", each.caution}});
        const auto* number = std::get_if<real>(&each.value);
        made.say("  {}: {} {} (by {})\n    {}\n", each.what,
                 number != nullptr ? fmt::format("{:.1f}", *number) : figures::text_of(each.value), each.unit,
                 each.source, each.caution);
    }
    for (const auto& each : stands_for.left_out)
        made.say("  not shown: {}\n", each);
    made.data["equivalents"] = std::move(list);
    made.data["not_shown"] = value{stands_for.left_out};
    return made;
}

answer costs_of(const quarter_seen& shown) {
    const auto costs = figures::cost_steps_of(shown.seen.season, shown.seen.reckoning, shown.report);
    const auto table_of = [](const std::string& first) {
        return table{{first, "grant", "match", "in-kind=in_kind", "total", "$ a ton=per_ton", "hours",
                      "hours a ton=hours_per_ton"}};
    };
    auto purposes = table_of("for=purpose"), sites = table_of("site"), total = table_of("for=purpose");
    for (const auto& each : costs.purposes)
        add(purposes, each);
    for (const auto& each : costs.sites)
        add(sites, each);
    add(total, costs.total);
    answer made;
    made.data = head_of(shown);
    made.data["tons"] = costs.tons;
    made.data["purposes"] = purposes.rows();
    made.data["total"] = total.rows().list()->front();
    made.data["sites"] = sites.rows();
    made.data["next_ton"] = {{"low", costs.next_ton.low},
                             {"high", costs.next_ton.high},
                             {"reason", costs.next_ton.why_not.empty() ? value{} : value{costs.next_ton.why_not}},
                             {"how", figures::next_ton_in_words}};
    add(purposes, costs.total);
    say_head(made, "Costs", shown);
    made.say("By purpose, in dollars; a ton is one of the {:.4f} diverted.\n\n", costs.tons);
    made.show(purposes);
    made.say("\nBy site; a ton is one by the scale of what was accepted there, in bales weighed in the {}.\n\n",
             shown.report.basis.period.word());
    made.show(sites);
    say_next(made, costs.next_ton);
    return made;
}

} // namespace tarewell::desk
