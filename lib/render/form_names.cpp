#include "render/form_names.hpp"

#include "figures/closing.hpp"
#include "figures/table.hpp"

#include <algorithm>
#include <cctype>
#include <stdexcept>

namespace tarewell::render {
namespace {

using enum name_kind;

struct table_line {
    std::string_view path;
    name_kind kind;
    std::string_view meaning;
};

constexpr table_line own_names[] = {
    {"quarter", group, "the quarter of the report, or the year, whole award or span"},
    {"quarter.name", text, "as 2026-Q3, 2026, final, 2026-04..2026-09"},
    {"quarter.from", text, "its first day, as 2026-07-01"},
    {"quarter.to", text, "its last day"},
    {"quarter.from_words", text, "its first day, as July 1, 2026"},
    {"quarter.to_words", text, "its last day, as September 30, 2026"},
    {"quarter.word", text, "quarter, year or period: what it is"},
    {"quarter.is_quarter", yes_no, "it is a quarter: no year, whole award or span"},
    {"quarter.closed", yes_no, "closed, and so filed"},
    {"quarter.state", text, "closed, or not closed"},
    {"award", group, "the award"},
    {"award.id", text, "its number"},
    {"award.agency", text, "who pays"},
    {"award.program", text, "the program's name"},
    {"award.region", text, "the region served"},
    {"award.begins", text, "its first day"},
    {"award.ends", text, "its last day"},
    {"award.goal_tons", text, "the goal in tons of 2,000 lb"},
    {"award.unit", text, "lb or kg"},
    {"award.match_percent", text, "percent of match, where there is one"},
    {"award.match_base", text, "total or grant: what the percent is of"},
    {"award.indirect_percent", text, "percent of indirect costs, where there is one"},
    {"award.counted_when", text, "weighed, shipped or accepted"},
    {"award.counted_by", text, "the same with the scale: weighed by the scale, and shipped, or accepted by processors"},
    {"mark", group, "what ties the report to the ledger"},
    {"mark.as_of", text, "the journal entry up to which the ledger was read"},
    {"mark.at", text, "when that entry was made, UTC"},
    {"mark.hash", text, "the ledger's fingerprint (SHA-256) at that entry"},
    {"signed", group, "who closed the quarter; missing until it is closed"},
    {"signed.prepared_by", text, "who prepared the report"},
    {"signed.reviewed_by", text, "who reviewed it"},
    {"signed.certified_by", text, "who certified it"},
    {"signed.remarks", text, "what stands beside the signatures, in one text"},
    {"chart", group, "charts, each with its table; see part_chart"},
    {"chart.tons", group, "tons diverted to date by month against the goal"},
    {"chart.claims_by_month", group, "claims and scale weight by month"},
    {"chart.claims_by_bale", group, "claims and scale weight by bale of the quarter"},
    {"chart.causes", group, "bundles rejected in the quarter by cause"},
    {"chart.money", group, "spent and given to date against the budget by object class"},
    {"chart.purposes", group, "what a ton cost by purpose"},
    {"months", list, "months of the award to the quarter's last day"},
    {"months.month", text, "as 2026-07"},
    {"months.diverted_tons", text, "tons diverted in the month"},
    {"months.diverted_tons_to_date", text, "tons diverted by the month's end"},
    {"months.goal_tons", text, "the goal in tons of 2,000 lb"},
    {"months.net", text, "net weight of the bales weighed in the month"},
    {"months.estimate", text, "what their bundles were claimed to weigh"},
    {"causes", list, "why bundles and weight were rejected in the quarter"},
    {"causes.reason", text, "the cause"},
    {"causes.bundles", text, "bundles rejected for it, each once"},
    {"causes.residue", text, "weight rejected out of weighed bales for it"},
    {"money", list, "money by object class through the quarter's last day"},
    {"money_total", group, "the sums of all object classes"},
    {"money_unclassed", group, "match contributed without an object class, where there is any"},
    {"moves", group, "what moved between budget lines since the award, supplements apart"},
    {"moves.moved", text, "moved from line to line, and spent beyond a line"},
    {"moves.total", text, "grant and match as last approved"},
    {"moves.share", text, "the one over the other, in percent"},
    {"moves.past_limit", yes_no, "past the share that may need the agency's prior approval"},
    {"request_totals", list, "reimbursement requests through the quarter's last day"},
    {"request_totals.request", text, "its id"},
    {"request_totals.date", text, "its day"},
    {"request_totals.direct", text, "costs claimed in it"},
    {"request_totals.indirect", text, "indirect costs claimed in it"},
    {"request_totals.claimed", text, "the sum of both"},
    {"request_totals.paid", text, "paid of it"},
    {"request_totals.retained", text, "withheld of it"},
    {"request_totals.open", text, "neither paid nor withheld"},
    {"match_beyond", text, "how much more was contributed than line 10i of SF-425 requires, where it is more"},
    {"indirect_periods", list, "line 11 of SF-425: indirect expense, a row for each rate to the quarter's last day"},
    {"indirect_periods.type", text, "the setting indirect_rate_type"},
    {"indirect_periods.percent", text, "the rate"},
    {"indirect_periods.from", text, "its first day, or the award's"},
    {"indirect_periods.to", text, "its last day, or the quarter's"},
    {"indirect_periods.base", text, "what it added to the modified total direct costs"},
    {"indirect_periods.charged", text, "what was charged at it"},
    {"narrative", list, "the coordinator's paragraphs for the quarter (tarewell quarter note)"},
    {"narrative.part", text, "done, problems, next, or a word of the coordinator's"},
    {"narrative.heading", text, "What was done, Problems, What comes next, or that word"},
    {"narrative.paragraphs", list, "its paragraphs"},
    {"narrative.paragraphs.text", text, "one paragraph"},
    {"across_quarters", list, "the quarters of a year, the whole award or a span; none of a quarter"},
    {"across_quarters.name", text, "as 2026-Q3, or the days of a part of one"},
    {"across_quarters.state", text, "filed, or open"},
    {"across_quarters.from", text, "its first day"},
    {"across_quarters.to", text, "its last day"},
    {"across", list, "main figures over those quarters"},
    {"across.figure", text, "the figure's name"},
    {"across.meaning", text, "a sentence that says what it is"},
    {"across.unit", text, "its unit"},
    {"across.cells", list, "its value in each quarter, as filed where it is closed"},
    {"across.cells.cell", text, "one value"},
    {"across.changed", text, "what changed since filing in all closed quarters; missing where the line is no sum"},
    {"across.all", text, "the whole period's value"},
    {"across.how", text, "how the quarters go together: sum, on the last day, each once, worked out anew"},
    {"pace", group, "how far the award is toward its goal, and what the rest asks for"},
    {"pace.through", text, "the day through which it tells"},
    {"pace.through_words", text, "the same, as September 30, 2026"},
    {"pace.goal", text, "the goal in tons of 2,000 lb"},
    {"pace.to_date", text, "tons diverted to date"},
    {"pace.left", text, "tons left to the goal"},
    {"pace.reached", yes_no, "none is left"},
    {"pace.days_gone", text, "days of the award gone"},
    {"pace.days_in_all", text, "days of the award"},
    {"pace.elapsed", text, "the one over the other, in percent"},
    {"pace.quarters_left", text, "quarters of the award that end after that day"},
    {"pace.needed_a_quarter", text, "tons needed in each of them"},
    {"pace.so_far_a_quarter", text, "tons a quarter so far, by the days gone"},
    {"pace.at_this_pace", text, "tons by the award's end if it goes on so"},
    {"equivalents", list, "what the tons stand for, each by a factor whose source is named"},
    {"equivalents.what", text, "landfill volume, landfill fee, greenhouse gas"},
    {"equivalents.value", text, "how much"},
    {"equivalents.unit", text, "of what"},
    {"equivalents.source", text, "where the factor is from"},
    {"equivalents.caution", text, "what it does not say"},
    {"costs_by_purpose", list, "what the quarter cost by purpose, each expense once"},
    {"costs_by_purpose.purpose", text, "collect, bale, haul, process, run, not said, indirect costs"},
    {"costs_by_site", list, "what the quarter cost by the site named, each expense once"},
    {"costs_by_site.site", text, "the site's id; missing on the last line, which names none"},
    {"next_ton", group, "costs by purpose in short, and what the next ton would cost"},
    {"next_ton.any_said", yes_no, "a cost or contribution says what it was for"},
    {"next_ton.low", text, "dollars for the next ton, at least; missing where it is not known"},
    {"next_ton.high", text, "at most; missing where it is the same"},
    {"next_ton.reason", text, "why it is not known"},
    {"next_ton.how", text, "how it is reckoned"},
    {"next_ton.hours_per_ton", text, "volunteers' hours for each ton diverted"},
    {"next_ton.total", text, "what all purposes cost together"},
    {"next_ton.per_ton", text, "the same over the tons diverted"},
    {"calendar", list, "the award's reports by the day on which they are due"},
    {"calendar.report", text, "a quarter, annual and a year, or final"},
    {"calendar.from", text, "the first day that it tells of"},
    {"calendar.to", text, "the last"},
    {"calendar.due", text, "the day on which it is due"},
    {"calendar.closed", yes_no, "its quarter was closed by the entry that the report stands on"},
    {"records_kept_until", text, "the last day on which records must be kept"},
    {"closing_remarks", list, "what stands beside the signatures: doubts accepted, an early closing, one withdrawn"},
    {"closing_remarks.what", text, "what it is about"},
    {"closing_remarks.text", text, "the reason given, or the question"},
    {"flag_groups", list, "the quarter's flags by kind"},
    {"flag_groups.code", text, "the kind"},
    {"flag_groups.meaning", text, "what it means"},
    {"flag_groups.stops", yes_no, "a quarter is closed over it only with a reason"},
    {"flag_groups.level", text, "note, question, or blocks closing"},
    {"flag_groups.accepted", text, "why the quarter was closed over it"},
    {"flag_groups.count", text, "how many there are"},
    {"flag_groups.found", list, "each of them"},
    {"flag_groups.found.on", text, "the day that it belongs to"},
    {"flag_groups.found.sentence", text, "what was found"},
    {"flag_groups.found.rows", text, "the ledger rows that it is about"},
    {"method", list, "how the figures are made"},
    {"method.word", text, "what is explained"},
    {"method.note", text, "the explanation"},
    {"tie_out", list, "every figure summed a second time, from the evidence tables"},
    {"tie_out.name", text, "the figure"},
    {"tie_out.value", text, "its value"},
    {"tie_out.unit", text, "its unit"},
    {"tie_out.evidence", text, "how many ledger rows stand behind it"},
    {"tie_out.second", text, "the second sum"},
    {"tie_out.difference", text, "the one less the other"},
    {"tie_out.ties", yes_no, "the difference is 0"},
    {"tie_out.result", text, "ties, does not tie, or no second sum (a statistic)"},
    {"tie_out.way", text, "how it was summed the second time"},
    {"tie_out_ties", yes_no, "every difference is 0"},
    {"site_sheet", group, "one site (needs --site)"},
    {"site_sheet.id", text, "its id"},
    {"site_sheet.name", text, "its name"},
    {"site_sheet.town", text, "its town"},
    {"site_sheet.host", text, "who hosts it"},
    {"site_sheet.in_quarter", group, "what came of it in the quarter"},
    {"site_sheet.to_date", group, "what came of it through the quarter's last day"},
    {"grower_sheet", group, "one grower (needs --grower), through the quarter's last day"},
    {"grower_sheet.id", text, "the grower's id"},
    {"grower_sheet.name", text, "the grower's name, with --names"},
    {"grower_sheet.farm", text, "the farm, with --names"},
    {"grower_sheet.registered", text, "bundles registered"},
    {"grower_sheet.registered_estimate", text, "what they were claimed to weigh"},
    {"grower_sheet.received", text, "bundles accepted at a site"},
    {"grower_sheet.received_estimate", text, "what they were claimed to weigh"},
    {"grower_sheet.rejected", text, "bundles rejected"},
    {"grower_sheet.weighed", text, "bundles in weighed bales"},
    {"grower_sheet.weighed_estimate", text, "what they were claimed to weigh"},
    {"grower_sheet.share", text, "their shares of the bales' net weight"},
    {"grower_sheet.difference", text, "shares less claims"},
    {"grower_sheet.ratio", text, "shares over claims, in percent; missing while nothing is weighed"},
    {"grower_sheet.program_ratio", text, "the same of the whole program"},
    {"grower_sheet.scale_share", text,
     "weight for each 100 claimed beside film that was estimated in the same way, with its 95 % interval, as the audit "
     "and its letters have it; missing where nothing can be said"},
    {"grower_sheet.bales", text, "weighed bales that hold the grower's bundles"},
    {"grower_sheet.mixed_bales", text, "those of them that hold other growers' bundles, too"},
    {"grower_sheet.covers", list, "how each cover was really estimated"},
    {"grower_sheet.covers.registration", text, "its registration"},
    {"grower_sheet.covers.cover", text, "its id"},
    {"grower_sheet.covers.structure", text, "what it covered"},
    {"grower_sheet.covers.size", text, "length, width and layers"},
    {"grower_sheet.covers.shape", text, "the factor from floor to film, and where it is from"},
    {"grower_sheet.covers.film", text, "what a square foot was taken to weigh, and why"},
    {"grower_sheet.covers.claimed", text, "what that comes to, or that the bundles' own estimates stand"},
    {"grower_sheet.has_weighed", yes_no, "a bundle at least is in a weighed bale"},
    {"grower_sheet.has_rejected", yes_no, "a bundle at least was rejected"},
    {"grower_sheet.bundles", list, "each bundle"},
    {"grower_sheet.bundles.bundle", text, "its id"},
    {"grower_sheet.bundles.registration", text, "its registration"},
    {"grower_sheet.bundles.number", text, "its number on the label"},
    {"grower_sheet.bundles.of", text, "of how many"},
    {"grower_sheet.bundles.registered_on", text, "the day of registration"},
    {"grower_sheet.bundles.estimate", text, "what it was claimed to weigh"},
    {"grower_sheet.bundles.received_on", text, "the day on which it was accepted"},
    {"grower_sheet.bundles.received_at", text, "the site's id"},
    {"grower_sheet.bundles.rejected_on", text, "the day on which it was first rejected"},
    {"grower_sheet.bundles.reason", text, "why"},
    {"grower_sheet.bundles.bale", text, "its bale, once weighed"},
    {"grower_sheet.bundles.weighed_on", text, "the day on which the bale was weighed"},
    {"grower_sheet.bundles.share", text, "its share of the bale's net weight"},
};

constexpr table_line figure_names_inside[] = {
    {"name", text, "the figure's name"},
    {"value", text, "its value for reading, without its unit"},
    {"shown", text, "its value with its unit: $9,421.01, 242 bundles, 34.1%"},
    {"exact", text, "its value with nothing rounded or set apart"},
    {"unit", text, "its unit"},
    {"meaning", text, "what it says"},
    {"evidence", text, "how many ledger rows stand behind it"},
    {"reason", text, "why it is undefined, where it is"},
};
constexpr table_line chart_names_inside[] = {
    {"id", text, "its id in the page"},
    {"title", text, "its title"},
    {"description", text, "what it shows, in words"},
    {"svg", markup, "the picture; write it as {{{svg}}}"},
    {"headings", list, "the headings of its table"},
    {"headings.heading", text, "one heading"},
    {"rows", list, "the rows of its table; none: there is nothing to draw"},
    {"rows.head", text, "the row's first cell"},
    {"rows.cells", list, "its other cells"},
    {"rows.cells.cell", text, "one cell"},
};
constexpr table_line cost_names_inside[] = {
    {"name", text, "the purpose or the site in words"},
    {"grant", text, "direct costs on the grant, and indirect costs"},
    {"match", text, "costs on match"},
    {"in_kind", text, "in-kind contributions"},
    {"total", text, "the three together"},
    {"per_ton", text,
     "dollars for each ton: of a purpose, of those diverted; of a site, of those weighed of its bundles"},
    {"hours", text, "volunteers' hours"},
    {"hours_per_ton", text, "the same for each ton"},
    {"collected", text, "of a site: scale weight of its bundles in bales weighed in the quarter"},
};
constexpr table_line money_names_inside[] = {
    {"category", text, "the object class"},
    {"in_budget", yes_no, "the budget has a line for it"},
    {"grant_budget", text, "granted"},
    {"grant_in_quarter", text, "spent on the grant in the quarter"},
    {"grant_spent", text, "spent on the grant to date, indirect costs at their percent"},
    {"grant_left", text, "granted less spent"},
    {"match_budget", text, "match in the budget"},
    {"match_in_quarter", text, "match contributed in the quarter"},
    {"match_given", text, "match contributed to date, in kind too"},
};
constexpr table_line site_names_inside[] = {
    {"bundles", text, "bundles accepted at the site"},
    {"estimate", text, "what they were claimed to weigh"},
    {"growers", text, "growers who brought them"},
    {"rejected", text, "bundles rejected"},
    {"scale_weight", text, "shares of its bundles in bales weighed"},
    {"tons", text, "the same in tons of 2,000 lb"},
};

form_name* child(form_name& of, std::string_view name) {
    for (auto& each : of.inside)
        if (each.name == name) return &each;
    return nullptr;
}

void add(form_name& to, std::string_view path, name_kind kind, std::string_view meaning) {
    form_name* parent = &to;
    for (auto dot = path.find('.'); dot != std::string_view::npos; dot = path.find('.')) {
        parent = child(*parent, path.substr(0, dot));
        if (parent == nullptr) throw std::logic_error("no parent for " + std::string{path});
        path.remove_prefix(dot + 1);
    }
    parent->inside.push_back({std::string{path}, kind, std::string{meaning}, {}});
    if (kind == list) parent->inside.push_back({"any_" + std::string{path}, yes_no, "there is one at least", {}});
}

template <std::size_t Count> void add_all(form_name& to, const table_line (&lines)[Count]) {
    for (const auto& each : lines)
        add(to, each.path, each.kind, each.meaning);
}

void add_evidence(form_name& to) {
    records::season empty;
    empty.the_award.emplace();
    const auto reckoned = reconcile::reckon(empty);
    const figures::basis any{{}, {quantity::day{}, quantity::day{}}, 0, false};
    for (const auto& table : figures::evidence_tables(empty, reckoned, any, true, {figures::restatement{}})) {
        const auto word = form_word(table.name);
        add(to, word, list, table.about);
        for (const auto& column : table.columns)
            add(to, word + "." + column.name, text, column.heading);
        add(to, word + ".in_quarter", yes_no, "dated in the quarter; always where the table has no such date");
    }
}

form_name make_names() {
    form_name root{"", group, "", {}};
    add_all(root, own_names);
    for (auto& each : child(root, "chart")->inside)
        add_all(each, chart_names_inside);
    for (const char* name : {"costs_by_purpose", "costs_by_site"})
        add_all(*child(root, name), cost_names_inside);
    for (const char* name : {"money", "money_total", "money_unclassed"})
        add_all(*child(root, name), money_names_inside);
    for (const char* name : {"in_quarter", "to_date"})
        add_all(*child(*child(root, "site_sheet"), name), site_names_inside);
    add(root, "figures", list, "every figure in its order");
    add_all(*child(root, "figures"), figure_names_inside);
    add(root, "figure", group, "figures by name");
    for (const auto& each : figures::all_figure_names()) {
        auto& figure = *child(root, "figure");
        add(figure, each.name, group, each.meaning);
        add_all(*child(figure, each.name), figure_names_inside);
    }
    add_evidence(root);
    return root;
}

void list_names(const form_name& of, const std::string& before, std::vector<named_line>& lines) {
    for (const auto& each : of.inside) {
        const auto path = before + each.name;
        lines.push_back({path, each.kind, each.meaning});
        if (path == "figure") {
            for (const auto& inner : figure_names_inside)
                lines.push_back({"figure.NAME." + std::string{inner.path}, inner.kind, std::string{inner.meaning}});
            continue;
        }
        list_names(each, path + ".", lines);
    }
}

} // namespace

std::string_view name_of(name_kind kind) {
    switch (kind) {
    case text:
        return "text";
    case markup:
        return "markup";
    case yes_no:
        return "yes or no";
    case group:
        return "group";
    case list:
        return "list";
    }
    return {};
}

const form_name* form_name::find(std::string_view inner) const {
    for (const auto& each : inside)
        if (each.name == inner) return &each;
    return nullptr;
}

const form_name* form_name::resolve(std::string_view path) const {
    const auto dot = path.find('.');
    const auto* first = find(path.substr(0, dot));
    if (first == nullptr || dot == std::string_view::npos) return first;
    // A list's items have no names until its section is open.
    return first->kind == group ? first->resolve(path.substr(dot + 1)) : nullptr;
}

const form_name& all_form_names() {
    static const form_name root = make_names();
    return root;
}

std::vector<named_line> form_name_lines() {
    std::vector<named_line> lines;
    list_names(all_form_names(), "", lines);
    return lines;
}

} // namespace tarewell::render
