#include "render/rollup_page.hpp"

#include "ledger/whole_file.hpp"
#include "render/forms.hpp"
#include "render/page_parts.hpp"
#include "render/svg_canvas.hpp"
#include "render/template_text.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace tarewell::render {
namespace {

using namespace parts;
using desk::rolled_ledger;
using desk::rolled_sum;
using desk::rollup;
using figures::figure_summed;
using quantity::text_of;

constexpr std::size_t most_columns = 6; // ledgers in one table that a sheet of paper still shows

const figure_summed& named(const rolled_sum& sum, std::string_view name) {
    return *std::find_if(sum.sum.figures.begin(), sum.sum.figures.end(),
                         [&](const figure_summed& each) { return each.name == name; });
}

/// Without its unit, which stands at the head of the row.
std::string cell_text(const figures::value& of, std::string_view unit) {
    if (std::holds_alternative<std::monostate>(of)) return "-";
    if (unit == "ratio") return percent_text(std::get<figures::real>(of));
    return words_in(of, unit);
}

value cell_part(const figures::value& of, std::string_view unit) { return {{"cell", cell_text(of, unit)}}; }

/// As a figure of the quarter's page has it: "8.4462 tons".
value figure_part(const figure_summed& of) {
    const figures::figure shown{of.name, of.value, of.unit, of.meaning, of.reason, 0};
    return json_of(
        {{"name", of.name}, {"value", words_in(shown)}, {"shown", shown_text(shown)}, {"reason", of.reason}});
}

std::string heading_of(const rolled_ledger& ledger) { return fmt::format("{} {}", ledger.label, ledger.terms.id); }

value ledger_part(const rolled_ledger& of, const rollup& in) {
    value made = json_of({{"label", of.label},
                          {"award", of.terms.id},
                          {"agency", of.terms.agency},
                          {"program", of.terms.program},
                          {"region", of.terms.region},
                          {"unit", std::string{quantity::name_of(of.terms.unit)}},
                          {"file", of.path},
                          {"from", text_of(of.days().from)},
                          {"to", text_of(of.days().to)},
                          {"state", of.state()},
                          {"quarters_filed", of.quarters_filed},
                          {"closing", of.filed ? count_text(of.filed->entry) : ""},
                          {"certified_by", of.filed ? of.filed->signatures.certified_by : ""},
                          {"as_of", fmt::format("{}", of.as_of.seq)},
                          {"as_of_at", of.as_of.at},
                          {"fingerprint", ledger::hex(of.as_of.hash)},
                          {"head", fmt::format("{}", of.head.seq)}});
    made["other_unit"] = of.terms.unit != in.unit;
    made["open"] = !of.filed;
    return made;
}

/// Main figures, a row for each ledger and each sum.
void put_main(value& to, const rollup& of) {
    const auto& all = of.sums.back();
    value headings = value::array(), ledgers = value::array(), sums = value::array();
    for (const auto& each : desk::main_figures()) {
        const auto& unit = named(all, each.name).unit;
        headings.push_back({{"heading", each.heading}, {"unit", unit == "lb" || unit == "kg" ? value{unit} : value{}}});
    }
    for (const auto& each : of.ledgers) {
        auto row = ledger_part(each, of);
        value cells = value::array();
        for (const auto& main : desk::main_figures()) {
            const auto* figure = each.report.find(main.name);
            cells.push_back(cell_part(figure->value, figure->unit));
        }
        put_list(row, "cells", std::move(cells));
        ledgers.push_back(std::move(row));
    }
    for (const auto& each : of.sums) {
        value cells = value::array();
        for (const auto& main : desk::main_figures())
            cells.push_back(cell_part(named(each, main.name).value, named(each, main.name).unit));
        value row{{"name", each.name}};
        put_list(row, "cells", std::move(cells));
        sums.push_back(std::move(row));
    }
    put_list(to, "main_headings", std::move(headings));
    put_list(to, "ledgers", std::move(ledgers));
    put_list(to, "sums", std::move(sums));
}

value row_of(const rollup& of, std::size_t i, std::size_t from, std::size_t end) {
    const auto& figure = of.sums.back().sum.figures[i];
    value cells = value::array();
    for (auto at = from; at < end; ++at)
        cells.push_back(cell_part(of.ledgers[at].report.figures[i].value, figure.unit));
    for (const auto& each : of.sums)
        cells.push_back(cell_part(each.sum.figures[i].value, figure.unit));
    value made = json_of({{"meaning", figure.meaning},
                          {"name", figure.name},
                          {"unit", figure.unit},
                          {"reason", figure.reason},
                          {"how", figure.anew ? "worked out anew" : "sum"}});
    put_list(made, "cells", std::move(cells));
    return made;
}

/// All figures, in tables of so many ledgers that paper still shows them; the sums stand in each.
value blocks_part(const rollup& of) {
    value blocks = value::array();
    for (std::size_t from = 0; from < of.ledgers.size(); from += most_columns) {
        const auto end = std::min(from + most_columns, of.ledgers.size());
        value headings = value::array(), rows = value::array();
        for (auto at = from; at < end; ++at) {
            const auto& ledger = of.ledgers[at];
            const auto unit =
                ledger.terms.unit == of.unit ? "" : fmt::format(", in {}", quantity::name_of(ledger.terms.unit));
            headings.push_back({{"heading", fmt::format("{}, {}{}", heading_of(ledger), ledger.state(), unit)}});
        }
        for (const auto& each : of.sums)
            headings.push_back({{"heading", each.name}});
        for (std::size_t i = 0; i < of.sums.back().sum.figures.size(); ++i)
            rows.push_back(row_of(of, i, from, end));
        value block{{"first", of.ledgers[from].label}, {"last", of.ledgers[end - 1].label}};
        block["several"] = end - from > 1;
        put_list(block, "headings", std::move(headings));
        put_list(block, "rows", std::move(rows));
        blocks.push_back(std::move(block));
    }
    return blocks;
}

chart tons_chart(const rollup& of) {
    std::vector<bar> bars;
    for (const auto& each : of.ledgers) {
        const auto tons = std::get<figures::real>(each.report.find("diverted_tons")->value);
        bars.push_back({heading_of(each) + (each.filed ? "" : ", open"), {tons, tons_text(tons)}});
    }
    return horizontal_bars({"chart-tons", "Tons diverted in the quarter, by ledger",
                            fmt::format("{} tons in all.", tons_text(std::get<figures::real>(
                                                               named(of.sums.back(), "diverted_tons").value))),
                            "Ledger", "tons of 2,000 lb"},
                           "Tons diverted", bars);
}

value page_of(const rollup& of) {
    const auto& all = of.sums.back();
    value page = json_of({{"title", of.title()},
                          {"period", quantity::title_of(of.period)},
                          {"command_period", text_of(of.period)},
                          {"from_words", words_of(all.days.from)},
                          {"to_words", words_of(all.days.to)},
                          {"goal", grouped_digits(fmt::format("{}", all.sum.goal_tons))},
                          {"unit", std::string{quantity::name_of(of.unit)}}});
    const auto open = std::count_if(of.ledgers.begin(), of.ledgers.end(), [](const auto& each) { return !each.filed; });
    page["count"] = count_text(static_cast<std::int64_t>(of.ledgers.size()));
    page["open_count"] = open == 0 ? value{} : value{count_text(open)};
    page["same_days"] = all.same_days;
    value figure = value::object();
    for (const auto& each : all.sum.figures)
        figure[each.name] = figure_part(each);
    page["figure"] = std::move(figure);
    put_main(page, of);
    put_list(page, "blocks", blocks_part(of));
    page["chart"] = part_of(tons_chart(of), of.period);
    value notes = value::array();
    for (const auto& each : of.notes)
        notes.push_back({{"note", each}});
    put_list(page, "notes", std::move(notes));
    return page;
}

} // namespace

void write_rollup_page(const std::string& path, const rollup& of) {
    const form_shelf shelf;
    const auto said = [&](const char* form) { return said_outside_tags(of.period, shelf.need(form).text); };
    ledger::write_whole(path, fill_template("rollup_page", said("rollup_page"), page_of(of),
                                            {{"part_style", said("part_style")}, {"part_chart", said("part_chart")}}));
}

} // namespace tarewell::render
