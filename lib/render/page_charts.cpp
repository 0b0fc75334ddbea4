#include "figures/breakdowns.hpp"
#include "render/page_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace tarewell::render::parts {
namespace {

constexpr std::size_t most_bales = 40; // rows that a reader still takes in at a glance

double drawn(quantity::weight value) { return quantity::nearest_double(value.count(), 1000); }
double drawn(quantity::money value) { return quantity::nearest_double(value.count(), 100); }
shown shown_of(quantity::weight value) { return {drawn(value), words_in(value)}; }
shown shown_of(quantity::money value) { return {drawn(value), with_sign(value)}; }

/// "Jul 26"
std::string month_label(quantity::day day) {
    const date::year_month_day ymd{day};
    return fmt::format("{} {:02}", words_of(day).substr(0, 3), static_cast<int>(ymd.year()) % 100);
}

std::string unit_of(const page_input& in) { return std::string{quantity::name_of(in.season.the_award->unit)}; }

chart tons_chart(const page_input& in, const std::vector<figures::month_line>& months) {
    const auto award = in.season.terms_on(in.report.basis.days.to);
    std::vector<line_point> points;
    for (const auto& each : months) {
        const double tons = each.diverted_tons_to_date;
        points.push_back({month_label(each.days.from), {tons, tons_text(tons)}});
    }
    const auto goal = quantity::nearest_double(award.goal_tons);
    const auto goal_text = quantity::shortest_text(award.goal_tons);
    return line_with_goal(
        {"chart-tons", "Tons diverted to date, by month",
         fmt::format("{} tons were diverted by the quarter's last day; the award's goal is {} tons by {}.",
                     points.back().amount.text, goal_text, words_of(award.ends)),
         "Month", "tons"},
        "Tons to date", points, "Goal", {goal, goal_text});
}

chart claims_by_month(const page_input& in, const std::vector<figures::month_line>& months) {
    std::vector<column_group> groups;
    for (const auto& each : months)
        groups.push_back({month_label(each.days.from), {shown_of(each.estimate), shown_of(each.net)}});
    return grouped_columns({"chart-claims-by-month", "Claims and scale weight, by month of weighing",
                            "For the bales weighed in each month, what their bundles were claimed "
                            "to weigh beside what the scale said.",
                            "Month", unit_of(in)},
                           {"Claimed", "Scale"}, groups);
}

chart claims_by_bale(const page_input& in) {
    std::vector<std::size_t> bales;
    const auto& known = in.reckoning.bales;
    for (std::size_t i = 0; i < known.size(); ++i)
        if (known[i].weighed && in.report.basis.days.holds(known[i].weighed->on)) bales.push_back(i);
    const auto off = [&](std::size_t i) { return std::abs((known[i].weighed->net - known[i].estimate).count()); };
    const auto id = [&](std::size_t i) { return in.season.bales[i].id; };
    const auto all = bales.size();
    if (all > most_bales) {
        std::stable_sort(bales.begin(), bales.end(), [&](auto a, auto b) { return off(a) > off(b); });
        bales.resize(most_bales);
    }
    std::sort(bales.begin(), bales.end(), [&](auto a, auto b) { return id(a) < id(b); });
    std::vector<pair_row> rows;
    for (const auto i : bales)
        rows.push_back({id(i).text(), shown_of(known[i].estimate), shown_of(known[i].weighed->net)});
    const auto which = all > most_bales
                           ? fmt::format("the {} bales farthest from their claim, of {} weighed in the quarter",
                                         most_bales, count_text(static_cast<std::int64_t>(all)))
                           : std::string{"each bale weighed in the quarter"};
    return paired_dots(
        {"chart-claims-by-bale", "Claims and scale weight, by bale",
         fmt::format("For {}: what its bundles were claimed to weigh, and its net weight by the scale.", which), "Bale",
         unit_of(in)},
        "Claimed", "Scale", rows);
}

chart causes_chart(const page_input& in) {
    std::vector<bar> bars;
    for (const auto& each : figures::reject_causes(in.season, in.reckoning, in.report.basis.days))
        if (each.bundles > 0)
            bars.push_back({each.reason, {static_cast<double>(each.bundles), count_text(each.bundles)}});
    return horizontal_bars({"chart-causes", "Bundles rejected, by cause",
                            "Bundles rejected in the quarter, each counted once, by the cause of its first rejection.",
                            "Cause", "bundles"},
                           "Bundles", bars);
}

chart money_chart(const page_input& in) {
    std::vector<bar_against> rows;
    for (const auto& each : figures::money_by_category(in.season, in.report.basis).lines)
        rows.push_back({each.category, shown_of(each.grant_spent), shown_of(each.grant_budget),
                        shown_of(each.match_given), shown_of(each.match_budget)});
    return bars_against_targets({"chart-money", "Money to date against the budget",
                                 "Spent on the grant and contributed as match through the quarter's last "
                                 "day; the outline around each bar is its budget.",
                                 "Object class", "$"},
                                {"Grant spent", "Grant budget", "Match contributed", "Match budget"}, rows);
}

} // namespace

value part_of(chart of, const quantity::period& period) {
    of.title = said_of(period, of.title);
    of.description = said_of(period, of.description);
    of.svg = said_of(period, of.svg); // its title and description
    value headings = value::array(), rows = value::array();
    for (const auto& each : of.table.headings)
        headings.push_back({{"heading", each}});
    for (const auto& row : of.table.rows) {
        value cells = value::array();
        for (std::size_t i = 1; i < row.size(); ++i)
            cells.push_back({{"cell", row[i]}});
        value made{{"head", row.front()}};
        put_list(made, "cells", std::move(cells));
        rows.push_back(std::move(made));
    }
    value part{{"id", of.id}, {"title", of.title}, {"description", of.description}, {"svg", of.svg}};
    put_list(part, "headings", std::move(headings));
    put_list(part, "rows", std::move(rows));
    return part;
}

value chart_part(const page_input& in) {
    const auto months = figures::by_month(in.season, in.reckoning, in.report.basis);
    const auto part_of_it = [&](const chart& of) { return part_of(of, in.report.basis.period); };
    return {{"tons", part_of_it(tons_chart(in, months))},
            {"claims_by_month", part_of_it(claims_by_month(in, months))},
            {"claims_by_bale", part_of_it(claims_by_bale(in))},
            {"causes", part_of_it(causes_chart(in))},
            {"money", part_of_it(money_chart(in))},
            {"purposes", part_of_it(purposes_chart(in))}};
}

} // namespace tarewell::render::parts
