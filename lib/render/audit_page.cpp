#include "render/audit_page.hpp"

#include "desk/scale_audit.hpp"
#include "render/forms.hpp"
#include "render/svg_canvas.hpp"
#include "render/svg_chart.hpp"

#include <fmt/format.h>

namespace tarewell::render {
namespace {

using desk::audit_view;
using desk::grower_line;
using desk::grower_lines;

constexpr std::size_t most_rows = 80; // intervals that a page still shows well

shown as_shown(double value, int places) { return {value, fmt::format("{:.{}f}", value, places)}; }

/// The grower, and the call where there is one: short enough for the axis, and the same in picture and table.
std::string label_of(const grower_line& line) {
    return line.call == audit::fair_call::too_little_data || line.call == audit::fair_call::never_weighed
               ? line.id
               : fmt::format("{} {}", line.id, figures::words_of(line.call));
}

/// "B004", or "B004 rest" where spot weights were taken off.
std::string label_of(const audit_view& seen, const figures::audit_row& row) {
    const auto& season = seen.seen.season;
    const auto& id =
        row.what == figures::audit_row::kind::load ? season.at(row.load).id.text() : season.at(row.bale).id.text();
    return row.spots_taken_off ? id + " rest" : id;
}

/// Each against others of the same class, so that the band of tolerance around 1 is the one that calls rest on.
chart ratios_chart(const grower_lines& growers, double tolerance) {
    std::vector<interval_row> rows;
    for (const auto& line : growers.lines)
        if (line.has_ratio && rows.size() < most_rows)
            rows.push_back({label_of(line), as_shown(line.fair.ratio, 2), as_shown(line.fair.low, 2),
                            as_shown(line.fair.high, 2), figures::words_of(line.call), line.called()});
    return interval_plot(
        {"chart-ratios", "Weight over claim by grower, with 95 % intervals",
         fmt::format(
             "Each grower against others who claimed in the same way for the same kind of structure, without what is "
             "their site's doing; the band is the tolerance of {}. Calls rest on the chance of lying outside it; of "
             "growers without a word beside them there is too little data. Growers that can't be told apart are called "
             "together or not at all.",
             desk::percent_text(tolerance)),
         "Grower", "weight over claim, relative to method"},
        "Ratio", rows, tolerance_band{as_shown(1 - tolerance, 2), as_shown(1 + tolerance, 2), "Tolerance"});
}

/// What stands before any talk with a grower.
std::string checks_part(const grower_lines& growers) {
    if (growers.checks.empty()) return "<p>No ticket and no claim stands out from the others.</p>\n";
    std::string text = "<ul>\n";
    for (const auto& check : growers.checks)
        text += fmt::format("<li>{}</li>\n", escaped(check.sentence));
    return text + "</ul>\n";
}

/// Calls, and what is waited for where there is none.
std::string calls_part(const grower_lines& growers) {
    std::string text = "<details>\n<summary>What can be said of each grower</summary>\n<section class=\"scroll\" "
                       "tabindex=\"0\" aria-label=\"Table: calls\">\n<table>\n<caption>Calls, and what is waited "
                       "for</caption>\n<thead><tr><th scope=\"col\">Grower</th><th scope=\"col\">Call</th><th "
                       "scope=\"col\">Note</th></tr></thead>\n<tbody>\n";
    for (const auto& line : growers.lines)
        text += fmt::format("<tr><th scope=\"row\">{}</th><td>{}</td><td>{}</td></tr>\n", escaped(line.id),
                            figures::words_of(line.call), escaped(line.note));
    return text + "</tbody>\n</table>\n</section>\n</details>\n";
}

chart weighings_chart(const audit_view& seen) {
    const auto claim = desk::claims_by_row(seen.input);
    std::vector<pair_row> rows;
    for (std::size_t k = 0; k < claim.size() && rows.size() < most_rows; ++k)
        if (seen.input.rows[k].what != figures::audit_row::kind::bundle && seen.input.season.bales[k].net >= 0)
            rows.push_back({label_of(seen, seen.input.rows[k]), as_shown(claim[k], 0),
                            as_shown(seen.input.season.bales[k].net, 0)});
    return paired_dots({"chart-weighings", "Claims against the scale, by bale",
                        fmt::format("What each bale's bundles are claimed to weigh, and what the scale said, "
                                    "in {}; \"rest\": less bundles that were "
                                    "weighed alone.",
                                    seen.unit()),
                        "Bale", seen.unit()},
                       "Claim", "Scale", rows);
}

std::vector<chart> control_charts(const audit_view& seen) {
    std::vector<chart> charts;
    for (const auto& each : desk::audit_of_scales(seen.seen, seen.days).charts) {
        if (!each.chart.usable) continue;
        const bool checks = each.what == "check weights";
        const int places = checks ? 1 : 3;
        std::vector<line_point> points;
        for (std::size_t i = 0; i < each.values.size(); ++i)
            points.push_back({each.labels[i], as_shown(each.values[i], places)});
        charts.push_back(control_chart_of({fmt::format("chart-control-{}", charts.size() + 1),
                                           fmt::format("Control chart of scale {}: {}", each.scale, each.what),
                                           checks ? "Second weighing less the first, in order of days."
                                                  : "Weight over claim of bundles weighed alone, in order of days.",
                                           "Ticket", checks ? seen.unit() : "weight over claim"},
                                          each.what, points,
                                          {as_shown(each.chart.centre, places), as_shown(each.chart.lower, places),
                                           as_shown(each.chart.upper, places)}));
    }
    return charts;
}

std::string table_of(const chart& of) {
    std::string text = fmt::format("<details>\n<summary>The same as a table: {0}</summary>\n<section class=\"scroll\" "
                                   "tabindex=\"0\" aria-label=\"Table: "
                                   "{0}\">\n<table>\n<caption>{0}</caption>\n<thead><tr>",
                                   escaped(of.title));
    for (const auto& each : of.table.headings)
        text += fmt::format("<th scope=\"col\">{}</th>", escaped(each));
    text += "</tr></thead>\n<tbody>\n";
    for (const auto& row : of.table.rows) {
        text += fmt::format("<tr><th scope=\"row\">{}</th>", escaped(row.front()));
        for (std::size_t i = 1; i < row.size(); ++i)
            text += fmt::format("<td class=\"n\">{}</td>", escaped(row[i]));
        text += "</tr>\n";
    }
    return text + "</tbody>\n</table>\n</section>\n</details>\n";
}

std::string figure_of(const chart& of) {
    return fmt::format(
        "<figure class=\"chart\" id=\"{}\">\n<figcaption>\n<h3>{}</h3>\n<p>{}</p>\n</figcaption>\n{}\n{}</figure>\n",
        of.id, escaped(of.title), escaped(of.description),
        of.table.rows.empty() ? "<p class=\"note\">There is nothing to draw in these days.</p>" : of.svg,
        of.table.rows.empty() ? "" : table_of(of));
}

/// The look of all pages, less the comment that it begins with.
std::string style() {
    const auto text = form_shelf{}.need("part_style").text;
    return text.substr(text.find("}}") + 2);
}

} // namespace

std::string audit_pictures(const audit_view& seen, double tolerance) {
    const auto growers = desk::lines_of_growers(seen, tolerance);
    std::string body =
        figure_of(ratios_chart(growers, tolerance)) + calls_part(growers) + figure_of(weighings_chart(seen));
    for (const auto& each : control_charts(seen))
        body += figure_of(each);
    const auto reason = desk::why_nothing_is_said(seen, growers);
    const auto lead = reason.empty()
                          ? fmt::format("Weights of {} tell how claims and scale agree; weight over claim by kind of "
                                        "claim: {}. {}",
                                        seen.weighings_in_words(), desk::means_in_words(growers.fair),
                                        desk::roughness_in_words(growers.fair))
                          : reason;
    return fmt::format("<section aria-labelledby=\"checks\">\n<h2 id=\"checks\">To check first</h2>\n{}</section>\n"
                       "<section aria-labelledby=\"audit\">\n<h2 id=\"audit\">In pictures</h2>\n<p "
                       "class=\"lead\">{}</p>\n<p>Most bales mix growers, so a ratio comes with an interval. Where it "
                       "is wide there is too little data, and the picture can't say more than the scale "
                       "does.</p>\n{}</section>\n",
                       checks_part(growers), escaped(lead), body);
}

std::string audit_page(const audit_view& seen, double tolerance) {
    return fmt::format(
        "<!DOCTYPE html>\n<html lang=\"en-US\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" "
        "content=\"width=device-width, initial-scale=1\">\n<title>{0}: the audit of "
        "claims</title>{1}</head>\n<body>\n<a class=\"skip\" "
        "href=\"#main\">Skip to the pictures</a>\n<header>\n<p class=\"over\">{0}</p>\n<h1>What the scale says of the "
        "claims</h1>\n<p>{2}; as of "
        "entry {3}.</p>\n</header>\n<main id=\"main\">\n{4}</main>\n</body>\n</html>\n",
        escaped(seen.seen.award().program), style(), escaped(seen.days_in_words()), seen.seen.as_of,
        audit_pictures(seen, tolerance));
}

} // namespace tarewell::render
