#include "render/report_tables.hpp"

#include "figures/audit_tables.hpp"
#include "figures/breakdowns.hpp"
#include "figures/make_columns.hpp"
#include "figures/period_tables.hpp"
#include "figures/stories.hpp"
#include "grant/financial.hpp"
#include "render/form_names.hpp"

namespace tarewell::render {
namespace {

using namespace figures; // NOLINT

table_column tons(std::string name, std::string heading) {
    return {std::move(name), std::move(heading), content::ratio, false};
}

table months(const page_input& in) {
    const auto terms = in.season.terms_on(in.report.basis.days.to);
    const real goal = quantity::nearest_double(terms.goal_tons);
    table made{
        "Months",
        std::string{"Months of the award to the quarter's last day: what was diverted, against the goal, and claims "
                    "against scale."} +
            (in.report.basis.period.is_quarter() ? "" : " Months to come are left out."),
        {words("month", "Month"), tons("diverted_tons", "Tons diverted"),
         tons("diverted_tons_to_date", "Tons diverted to date"), tons("goal_tons", "Goal, tons"),
         heft("estimate", "Claimed, of bales weighed"), heft("net", "Net of bales weighed")},
        {}};
    for (const auto& each : by_month(in.season, in.reckoning, in.report.basis))
        made.rows.push_back(row_of(quantity::text_of(each.days.from).substr(0, 7), each.diverted_tons,
                                   each.diverted_tons_to_date, goal, each.estimate, each.net));
    return made;
}

table causes(const page_input& in) {
    table made{"Causes",
               "Why bundles and weight were rejected in the quarter.",
               {words("reason", "Cause"), counts("bundles", "Bundles rejected"), heft("residue", "Residue")},
               {}};
    for (const auto& each : reject_causes(in.season, in.reckoning, in.report.basis.days))
        made.rows.push_back(row_of(each.reason, each.bundles, each.residue));
    return made;
}

table money(const page_input& in) {
    table made{"Money",
               "Money by object class through the quarter's last day; indirect costs at the award's percent.",
               {words("category", "Object class"), words("in_budget", "In the budget"),
                dollars("grant_budget", "Grant budget"), dollars("grant_in_quarter", "Spent in the quarter"),
                dollars("grant_spent", "Spent to date"), dollars("grant_left", "Grant balance"),
                dollars("match_budget", "Match budget"),
                dollars("match_in_quarter", "Match contributed in the quarter"),
                dollars("match_given", "Match contributed to date")},
               {}};
    auto money = money_by_category(in.season, in.report.basis);
    money.unclassed.in_budget = false;
    if (money.unclassed.match_given.count() != 0) money.lines.push_back(money.unclassed);
    for (const auto& each : money.lines)
        made.rows.push_back(row_of(each.category, std::string{each.in_budget ? "yes" : "no"}, each.grant_budget,
                                   each.grant_in_quarter, each.grant_spent, each.grant_left(), each.match_budget,
                                   each.match_in_quarter, each.match_given));
    return made;
}

table narrative(const page_input& in) {
    table made{"Narrative",
               "The coordinator's paragraphs, one a row.",
               {words("part", "Part"), words("heading", "Heading"), words("text", "Text")},
               {}};
    for (const auto& each : figures::narrative_of(in.season, in.report.basis.period))
        for (const auto& text : each.paragraphs)
            made.rows.push_back(row_of(each.part, each.heading, text));
    return made;
}

table request_totals(const page_input& in) {
    table made{"Request totals",
               "Each reimbursement request through the quarter's last day: claimed, paid, withheld, open.",
               {words("request", "Request"), date_column("date", "Date"), counts("costs", "Costs"),
                dollars("direct", "Direct"), dollars("indirect", "Indirect"), dollars("claimed", "Claimed"),
                dollars("paid", "Paid"), dollars("retained", "Withheld"), dollars("open", "Open")},
               {}};
    for (const auto& each : grant::requests_through(in.season, in.report.basis.days.to))
        made.rows.push_back(row_of(each.request, each.date, static_cast<std::int64_t>(each.costs.size()), each.direct,
                                   each.indirect, each.claimed(), each.paid, each.retained, each.open()));
    return made;
}

table_shelf make_known() {
    records::season empty;
    empty.the_award.emplace();
    const auto reckoned = reconcile::reckon(empty);
    const auto none = figures_of(empty, reckoned, basis{{}, {quantity::day{}, quantity::day{}}, 0, false});
    auto shelf = report_tables({none, empty, reckoned, {}, {restatement{}}, true});
    shelf.make_audit = nullptr;
    for (auto& each : audit_tables_without_rows())
        shelf.all.push_back(std::make_shared<const table>(std::move(each)));
    return shelf;
}

} // namespace

table_shelf report_tables(const page_input& in) {
    table_shelf shelf;
    shelf.evidence = std::make_shared<const std::vector<table>>(
        evidence_tables(in.season, in.reckoning, in.report.basis, in.with_names, in.adjusted));
    for (const auto& each : *shelf.evidence)
        shelf.all.emplace_back(shelf.evidence, &each);
    for (auto* make : {months, causes, money, request_totals, narrative}) {
        auto made = make(in);
        say_of(in.report.basis.period, made);
        shelf.all.push_back(std::make_shared<const table>(std::move(made)));
    }
    for (auto& each : period_tables(in.season, in.reckoning, in.report))
        shelf.all.push_back(std::make_shared<const table>(std::move(each)));
    shelf.make_audit = [in] { return audit_tables(in.season, in.reckoning, in.report.basis); };
    return shelf;
}

const table_shelf& known_tables() {
    static const auto known = make_known();
    return known;
}

shared_table table_shelf::called(std::string_view word) const {
    for (const auto& each : all)
        if (form_word(each->name) == word) return each;
    if (!make_audit || !word.starts_with("audit_")) return nullptr;
    if (audit.empty())
        for (auto& each : make_audit())
            audit.push_back(std::make_shared<const figures::table>(std::move(each)));
    for (const auto& each : audit)
        if (form_word(each->name) == word) return each;
    return nullptr;
}

} // namespace tarewell::render
