// What a page tells of a year, the whole award or a span, and of costs by purpose.
#include "figures/cost_steps.hpp"
#include "figures/pace.hpp"
#include "figures/quarters_across.hpp"
#include "render/page_parts.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace tarewell::render::parts {
namespace {

/// Those that a reader looks for when quarters stand side by side; all are in the workbook and in `quarter across`.
constexpr std::string_view looked_for[] = {
    "received_bundles",  "rejected_bundles", "bales_weighed", "bale_net_weight",   "weight_over_estimate",
    "residue_weight",    "diverted_weight",  "diverted_tons", "goal_share",        "shipped_tons",
    "accepted_tons",     "growers_served",   "growers_new",   "sites_active",      "grant_spent",
    "indirect_claimed",  "match_given",      "grant_left",    "payments_received", "cost_per_ton",
    "grant_cost_per_ton"};

std::string dollars_a_ton(const std::optional<figures::real>& of) {
    return of ? fmt::format("${}", words_in(figures::value{*of}, "$/ton")) : std::string{};
}

std::string tons_in_words(const std::optional<figures::real>& of) { return of ? tons_text(*of) : std::string{"-"}; }

} // namespace

void put_quarters(value& to, const page_input& in) {
    value columns = value::array(), lines = value::array();
    if (!in.report.basis.period.is_quarter()) {
        const auto across = figures::quarters_side_by_side(in.season, in.reckoning, in.report);
        for (const auto& each : across.columns)
            columns.push_back({{"name", each.name},
                               {"state", each.closed != nullptr ? "filed" : "open"},
                               {"from", quantity::text_of(each.days.from)},
                               {"to", quantity::text_of(each.days.to)}});
        for (const auto& line : across.lines) {
            if (std::find(std::begin(looked_for), std::end(looked_for), line.of->name) == std::end(looked_for))
                continue;
            const auto text = [&](const figures::value& of) {
                return std::holds_alternative<std::monostate>(of) ? std::string{"-"} : words_in(of, line.of->unit);
            };
            value cells = value::array();
            for (const auto& each : across.columns)
                cells.push_back({{"cell", text(each.shown_of(line.of->name))}});
            value made{
                {"figure", line.of->name},
                {"meaning", line.of->meaning},
                {"unit", line.of->unit},
                {"changed", std::holds_alternative<std::monostate>(line.changed) ? value{} : value{text(line.changed)}},
                {"all", text(line.of->value)},
                {"how", figures::in_words(line.how, in.report.basis.period)}};
            put_list(made, "cells", std::move(cells));
            lines.push_back(std::move(made));
        }
    }
    put_list(to, "across_quarters", std::move(columns));
    put_list(to, "across", std::move(lines));
}

value pace_part(const page_input& in) {
    const auto pace = figures::pace_of(in.season, in.reckoning, in.report);
    return {{"through", quantity::text_of(pace.through)},
            {"through_words", words_of(pace.through)},
            {"goal", quantity::shortest_text(in.season.terms_on(in.report.basis.days.to).goal_tons)},
            {"to_date", tons_text(pace.to_date)},
            {"left", tons_text(pace.left)},
            {"reached", pace.left <= 0},
            {"days_gone", count_text(pace.days_gone)},
            {"days_in_all", count_text(pace.days_in_all)},
            {"elapsed", percent_text(pace.elapsed_share)},
            {"quarters_left", count_text(pace.quarters_left)},
            {"needed_a_quarter", tons_in_words(pace.needed_a_quarter)},
            {"so_far_a_quarter", tons_in_words(pace.so_far_a_quarter)},
            {"at_this_pace", tons_in_words(pace.at_this_pace)}};
}

value equivalents_part(const page_input& in) {
    value rows = value::array();
    for (const auto& each : figures::equivalents_of(in.season, in.report).shown) {
        const auto* number = std::get_if<figures::real>(&each.value);
        rows.push_back({{"what", each.what},
                        {"value", number != nullptr ? fmt::format("{:.1f}", *number) : words_in(each.value, each.unit)},
                        {"unit", each.unit},
                        {"source", each.source},
                        {"caution", each.caution}});
    }
    return rows;
}

namespace {

value cost_part(const figures::cost_line& of, const char* first) {
    const auto places_2 = [](const std::optional<figures::real>& number) {
        return number ? value{fmt::format("{:.2f}", *number)} : value{};
    };
    return {{first, text_or_none(of.name)},
            {"name", of.heading},
            {"grant", words_in(of.grant)},
            {"match", words_in(of.match)},
            {"in_kind", words_in(of.in_kind)},
            {"total", words_in(of.total())},
            {"per_ton", of.per_ton ? value{words_in(figures::value{*of.per_ton}, "$/ton")} : value{}},
            {"hours", places_2(of.hours)},
            {"hours_per_ton", places_2(of.hours_per_ton)},
            {"collected", words_in(of.collected)}};
}

} // namespace

void put_costs(value& to, const page_input& in) {
    const auto costs = figures::cost_steps_of(in.season, in.reckoning, in.report);
    value purposes = value::array(), sites = value::array();
    for (const auto& each : costs.purposes)
        purposes.push_back(cost_part(each, "purpose"));
    for (const auto& each : costs.sites)
        sites.push_back(cost_part(each, "site"));
    put_list(to, "costs_by_purpose", std::move(purposes));
    put_list(to, "costs_by_site", std::move(sites));
}

value next_ton_part(const page_input& in) {
    const auto costs = figures::cost_steps_of(in.season, in.reckoning, in.report);
    const auto& next = costs.next_ton;
    const bool one = next.low && next.low == next.high;
    return {{"any_said", costs.any_said},
            {"low", text_or_none(dollars_a_ton(next.low))},
            {"high", text_or_none(one ? std::string{} : dollars_a_ton(next.high))},
            {"reason", text_or_none(next.why_not)},
            {"how", figures::next_ton_in_words},
            {"hours_per_ton",
             costs.total.hours_per_ton ? value{fmt::format("{:.1f}", *costs.total.hours_per_ton)} : value{}},
            {"total", words_in(costs.total.total())},
            {"per_ton", text_or_none(dollars_a_ton(costs.total.per_ton))}};
}

chart purposes_chart(const page_input& in) {
    const auto costs = figures::cost_steps_of(in.season, in.reckoning, in.report);
    const bool a_ton = costs.total.per_ton.has_value();
    std::vector<bar> bars;
    for (const auto& each : costs.purposes) {
        if (each.total() == quantity::money{}) continue;
        if (a_ton)
            bars.push_back({each.heading, {*each.per_ton, dollars_a_ton(each.per_ton)}});
        else
            bars.push_back(
                {each.heading, {quantity::nearest_double(each.total().count(), 100), with_sign(each.total())}});
    }
    return horizontal_bars(
        {"chart-purposes", a_ton ? "What a ton cost, by purpose" : "Costs, by purpose",
         said_of(in.report.basis.period,
                 a_ton ? "Grant, match and in-kind of the quarter by what they were for, over the tons "
                         "diverted; the bars sum to the cost of a ton."
                       : "Grant, match and in-kind of the quarter by what they were for."),
         "For", a_ton ? "$ a ton" : "$"},
        a_ton ? "Dollars a ton" : "Dollars", bars);
}

} // namespace tarewell::render::parts
