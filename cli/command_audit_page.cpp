#include "audit_growers.hpp"
#include "audit_scales.hpp"
#include "command_audit.hpp"
#include "ledger/whole_file.hpp"
#include "render/forms.hpp"
#include "render/svg_canvas.hpp"
#include "render/svg_chart.hpp"

#include <fmt/format.h>

#include <ostream>

namespace tarewell::cli {
namespace {

using render::escaped;
using render::shown;

constexpr std::size_t most_rows = 80; // intervals that a page still shows well

struct options {
    audit_request request;
    std::string file, tolerance = "10%";
};

shown as_shown(double value, int places) { return {value, fmt::format("{:.{}f}", value, places)}; }

/// The grower, and the call where there is one: short enough for the axis.
std::string label_of(const grower_line& line) {
    return line.call == audit::grower_call::cannot_tell ? line.id : fmt::format("{} {}", line.id, words_of(line.call));
}

/// "B004", or "B004 rest" where spot weights were taken off.
std::string label_of(const audit_view& seen, const figures::audit_row& row) {
    const auto& season = seen.seen.season;
    const auto& id =
        row.what == figures::audit_row::kind::load ? season.at(row.load).id.text() : season.at(row.bale).id.text();
    return row.spots_taken_off ? id + " rest" : id;
}

/// Against the basis's mean, so that the band of tolerance around 1 is the one that calls rest on.
render::chart ratios_chart(const grower_lines& growers, double tolerance) {
    std::vector<render::interval_row> rows;
    for (const auto& line : growers.lines)
        if (const auto& to = line.ratio.to_bases; to && rows.size() < most_rows)
            rows.push_back({label_of(line), as_shown(to->ratio, 2), as_shown(to->low, 2), as_shown(to->high, 2)});
    return render::interval_plot(
        {"chart-ratios", "Weight over claim by grower, with intervals",
         fmt::format(
             "Each grower against the mean of their bases of estimate; the band is the tolerance of {}. Calls rest on "
             "the probability of lying outside it; growers without a word beside them can't be called yet.",
             percent_text(tolerance)),
         "Grower", "weight over claim, to basis"},
        "Ratio", rows, render::tolerance_band{as_shown(1 - tolerance, 2), as_shown(1 + tolerance, 2), "Tolerance"});
}

render::chart weighings_chart(const audit_view& seen) {
    std::vector<double> claim(seen.input.rows.size(), 0.0);
    for (const auto& bundle : seen.input.season.bundles)
        if (bundle.bale >= 0) claim[static_cast<std::size_t>(bundle.bale)] += bundle.estimate;
    std::vector<render::pair_row> rows;
    for (std::size_t k = 0; k < claim.size() && rows.size() < most_rows; ++k)
        if (seen.input.rows[k].what != figures::audit_row::kind::bundle && seen.input.season.bales[k].net >= 0)
            rows.push_back({label_of(seen, seen.input.rows[k]), as_shown(claim[k], 0),
                            as_shown(seen.input.season.bales[k].net, 0)});
    return render::paired_dots({"chart-weighings", "Claims against the scale, by bale",
                                fmt::format("What each bale's bundles are claimed to weigh, and what the scale said, "
                                            "in {}; \"rest\": less bundles that were "
                                            "weighed alone.",
                                            seen.unit()),
                                "Bale", seen.unit()},
                               "Claim", "Scale", rows);
}

std::vector<render::chart> control_charts(const audit_view& seen) {
    std::vector<render::chart> charts;
    for (const auto& each : audit_of_scales(seen.seen, seen.days).charts) {
        if (!each.chart.usable) continue;
        const bool checks = each.what == "check weights";
        const int places = checks ? 1 : 3;
        std::vector<render::line_point> points;
        for (std::size_t i = 0; i < each.values.size(); ++i)
            points.push_back({each.labels[i], as_shown(each.values[i], places)});
        charts.push_back(
            render::control_chart_of({fmt::format("chart-control-{}", charts.size() + 1),
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

std::string table_of(const render::chart& of) {
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

std::string figure_of(const render::chart& of) {
    return fmt::format(
        "<figure class=\"chart\" id=\"{}\">\n<figcaption>\n<h3>{}</h3>\n<p>{}</p>\n</figcaption>\n{}\n{}</figure>\n",
        of.id, escaped(of.title), escaped(of.description),
        of.table.rows.empty() ? "<p class=\"note\">There is nothing to draw in these days.</p>" : of.svg,
        of.table.rows.empty() ? "" : table_of(of));
}

/// The look of all pages, less the comment that it begins with.
std::string style() {
    const auto text = render::form_shelf{}.need("part_style").text;
    return text.substr(text.find("}}") + 2);
}

std::string page_of(const audit_view& seen, const grower_lines& growers, double tolerance) {
    std::string body = figure_of(ratios_chart(growers, tolerance)) + figure_of(weighings_chart(seen));
    for (const auto& each : control_charts(seen))
        body += figure_of(each);
    const auto lead =
        seen.fitted()
            ? fmt::format("Weights of {} tell how claims and scale agree; means of weight over claim by basis: {}.",
                          seen.weighings_in_words(), means_in_words(seen))
            : seen.reason();
    return fmt::format(
        "<!DOCTYPE html>\n<html lang=\"en-US\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" "
        "content=\"width=device-width, initial-scale=1\">\n<title>{0}: the audit of "
        "claims</title>{1}</head>\n<body>\n<a class=\"skip\" "
        "href=\"#main\">Skip to the pictures</a>\n<header>\n<p class=\"over\">{0}</p>\n<h1>What the scale says of the "
        "claims</h1>\n<p>{2}; as of "
        "entry {3}.</p>\n</header>\n<main id=\"main\">\n<section aria-labelledby=\"audit\">\n<h2 id=\"audit\">In "
        "pictures</h2>\n<p "
        "class=\"lead\">{4}</p>\n<p>Most bales mix growers, so a ratio comes with an interval. A grower whose interval "
        "is wide has not been "
        "heard yet; the picture can't say more of them than the scale "
        "does.</p>\n{5}</section>\n</main>\n</body>\n</html>\n",
        escaped(seen.seen.award().program), style(), escaped(seen.days_in_words()), seen.seen.as_of, escaped(lead),
        body);
}

void run_page(const options& how, context& with) {
    const double tolerance = read_tolerance(how.tolerance);
    const auto seen = view_audit(how.request, with);
    ledger::write_whole(how.file, page_of(seen, lines_of_growers(seen, tolerance), tolerance));
    if (how.request.json) {
        auto made = seen.head();
        made["file"] = how.file;
        with.out << made.dump(2) << '\n';
        return;
    }
    with.out << fmt::format(
        "wrote {}: pictures show intervals, not certainty; `tarewell audit growers` says the same in words\n",
        how.file);
}

} // namespace

void add_audit_page(const command& audit, context& with) {
    auto sub = audit.add("page", "pictures of the audit: intervals, claims against the scale, control charts");
    auto& how = audit.keep<options>();
    add_audit_options(sub, how.request);
    sub.value("FILE", how.file, "the HTML file to write").required();
    sub.value("--tolerance", how.tolerance, "as for `audit growers`").shows_default();
    sub.does([&how, &with] { run_page(how, with); });
}

} // namespace tarewell::cli
