#include "desk/quarter.hpp"
#include "desk/rollup.hpp"

#include <algorithm>

namespace tarewell::desk {
namespace {

using quantity::text_of;

constexpr std::size_t most_side_by_side = 6; // columns that a terminal still shows

value figures_of(const rolled_ledger& of) { return *figures_for_machines(of.report).find("figures"); }

value ledger_for_machines(const rolled_ledger& of) {
    const auto& terms = of.terms;
    value made{{"ledger", of.label},
               {"file", of.path},
               {"award",
                {{"id", terms.id},
                 {"agency", terms.agency},
                 {"program", terms.program},
                 {"region", terms.region},
                 {"begins", terms.begins},
                 {"ends", terms.ends},
                 {"goal_tons", quantity::nearest_double(terms.goal_tons)},
                 {"quarter_starts", terms.quarter_starts},
                 {"unit", quantity::name_of(terms.unit)}}},
               {"from", of.days().from},
               {"to", of.days().to},
               {"state", of.state()},
               {"as_of", of.as_of.seq},
               {"fingerprint", ledger::hex(of.as_of.hash)},
               {"closing", of.filed ? value{of.filed->entry} : value{}},
               {"certified_by", of.filed ? value{of.filed->signatures.certified_by} : value{}},
               {"quarters_filed", of.quarters_filed.empty() ? value{} : value{of.quarters_filed}},
               {"head", of.head.seq},
               {"head_fingerprint", ledger::hex(of.head.hash)},
               {"nothing_dated", of.nothing_dated}};
    made["figures"] = figures_of(of);
    return made;
}

value labels_of(const rollup& of, const std::vector<std::size_t>& which, bool open_alone) {
    auto labels = value::array();
    for (const auto at : which)
        if (!open_alone || !of.ledgers[at].filed) labels.push_back(of.ledgers[at].label);
    return labels;
}

value sum_for_machines(const rollup& of, const rolled_sum& sum) {
    auto figures = value::array();
    for (const auto& each : sum.sum.figures) {
        value made{{"name", each.name},
                   {"value", value_of(each.value)},
                   {"unit", each.unit},
                   {"how", each.anew ? "worked out anew" : "sum"}};
        if (!each.reason.empty()) made["reason"] = each.reason;
        figures.push_back(std::move(made));
    }
    return {{"name", sum.name},
            {"ledgers", labels_of(of, sum.ledgers, false)},
            {"open", labels_of(of, sum.ledgers, true)},
            {"from", sum.days.from},
            {"to", sum.days.to},
            {"same_days", sum.same_days},
            {"goal_tons", sum.sum.goal_tons},
            {"figures", std::move(figures)}};
}

value for_machines(const rollup& of) {
    auto ledgers = value::array(), sums = value::array();
    for (const auto& each : of.ledgers)
        ledgers.push_back(ledger_for_machines(each));
    for (const auto& each : of.sums)
        sums.push_back(sum_for_machines(of, each));
    return {{"period", text_of(of.period)}, {"unit", quantity::name_of(of.unit)},
            {"same_days", of.same_days()},  {"ledgers", std::move(ledgers)},
            {"sums", std::move(sums)},      {"notes", value{of.notes}}};
}

/// To people alone.
cell shown(const figures::value& of, std::string_view unit) {
    const auto text = figures::shown(of, unit);
    const auto* number = std::get_if<figures::real>(&of);
    if (unit == "ratio" && number != nullptr) return {fmt::format("{:.1f} %", 100 * *number), {}};
    return {text.empty() ? "-" : text, {}};
}

/// "as filed, entry 1916", "open; filed: 2026-Q1, 2026-Q2"
std::string state_in_words(const rolled_ledger& of) {
    if (of.filed) return fmt::format("{}, entry {}", of.state(), of.filed->entry);
    return of.quarters_filed.empty() ? of.state() : fmt::format("{}; filed: {}", of.state(), of.quarters_filed);
}

void show_ledgers(answer& to, const rollup& of) {
    table rows{{"ledger", "award", "agency", "unit", "from", "to", "state", "as of entry=", "file"}};
    for (const auto& each : of.ledgers)
        rows.add({each.label, each.terms.id, each.terms.agency, quantity::name_of(each.terms.unit), each.days().from,
                  each.days().to, state_in_words(each), each.as_of.seq, each.path});
    to.show(rows);
}

std::string heading_of(const rollup& of, const rolled_ledger& ledger) {
    return ledger.terms.unit == of.unit ? ledger.label
                                        : fmt::format("{} ({})", ledger.label, quantity::name_of(ledger.terms.unit));
}

void show_figures(answer& to, const rollup& of, bool ledgers_too) {
    std::vector<std::string> headings{"figure", "unit="};
    for (const auto& each : of.ledgers)
        if (ledgers_too) headings.push_back(heading_of(of, each) + "=");
    for (const auto& each : of.sums)
        headings.push_back(each.name + "=");
    headings.emplace_back("how=");
    table rows{headings};
    const auto& all = of.sums.back().sum.figures;
    for (std::size_t i = 0; i < all.size(); ++i) {
        std::vector<cell> cells{all[i].name, all[i].unit};
        for (const auto& each : of.ledgers)
            if (ledgers_too) cells.push_back(shown(each.report.find(all[i].name)->value, all[i].unit));
        for (const auto& each : of.sums)
            cells.push_back(shown(each.sum.figures[i].value, all[i].unit));
        cells.emplace_back(!all[i].reason.empty() ? all[i].reason : all[i].anew ? "worked out anew" : "sum");
        rows.add(std::move(cells));
    }
    to.show(rows);
}

/// Of many ledgers, a row each.
void show_main_figures(answer& to, const rollup& of) {
    std::vector<std::string> headings{"ledger", "award"};
    for (const auto& each : main_figures())
        headings.push_back(std::string{each.heading} + "=");
    table rows{headings};
    const auto add = [&](std::vector<cell> cells, const auto& value_named) {
        for (const auto& each : main_figures())
            cells.push_back(value_named(each.name));
        rows.add(std::move(cells));
    };
    for (const auto& each : of.ledgers)
        add({heading_of(of, each), each.terms.id}, [&](std::string_view name) {
            const auto* figure = each.report.find(name);
            return shown(figure->value, figure->unit);
        });
    for (const auto& sum : of.sums)
        add({"", sum.name}, [&](std::string_view name) {
            const auto& figure = *std::find_if(sum.sum.figures.begin(), sum.sum.figures.end(),
                                               [&](const auto& each) { return each.name == name; });
            return shown(figure.value, figure.unit);
        });
    to.show(rows);
}

} // namespace

std::span<const main_figure> main_figures() {
    static constexpr main_figure all[] = {{"received_bundles", "Bundles accepted"},
                                          {"growers_served", "Growers"},
                                          {"bale_net_weight", "Net weight of bales"},
                                          {"diverted_tons", "Tons diverted"},
                                          {"diverted_tons_to_date", "Tons to date"},
                                          {"goal_share", "Share of goal"},
                                          {"grant_spent", "Direct costs on grant"},
                                          {"match_given", "Match"},
                                          {"cost_per_ton", "Cost per ton"}};
    return all;
}

answer told(const rollup& of) {
    answer made;
    made.data = for_machines(of);
    made.say("{}, side by side and summed in {}\n\n", of.title(), quantity::name_of(of.unit));
    show_ledgers(made, of);
    made.say("\n");
    const bool few = of.ledgers.size() <= most_side_by_side;
    if (!few) {
        show_main_figures(made, of);
        made.say("\nAll figures summed; --workbook, --page and --json have every ledger's.\n\n");
    }
    show_figures(made, of, few);
    made.say("\n");
    for (const auto& each : of.notes)
        made.say("{}\n", each);
    return made;
}

} // namespace tarewell::desk
