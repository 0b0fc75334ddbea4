#include "render/json.hpp"
#include "season_view.hpp"
#include "text_table.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <ostream>

namespace tarewell::cli {
namespace {

using json = nlohmann::ordered_json;
using figures::figure;
using reconcile::evidence_row;

struct options {
    std::string figure, quarter, kind, key;
    std::optional<ledger::entry_no> as_of;
    bool json = false;
};

/// What a row adds, in the figure's own way of writing.
std::string adds_text(const figure& of, const evidence_row& row) {
    if (!row.adds) return "";
    if (std::holds_alternative<quantity::money>(of.value)) return quantity::fixed_text(*row.adds, 2);
    if (std::holds_alternative<std::int64_t>(of.value)) return fmt::format("{}", *row.adds);
    return quantity::fixed_text(*row.adds, 3);
}

/// What rows add is in whole units, whatever the figure makes of their sum.
std::string unit_of_adds(const figure& of, const season_view& seen) {
    if (of.unit == "tons") return std::string{quantity::name_of(seen.award().unit)};
    return of.unit;
}

/// What of a figure stands on no row, since a percent gives it (indirect costs, match required); empty where the rows
/// sum to the figure, or add nothing at all.
std::string on_no_row(const figure& of, const std::vector<evidence_row>& rows) {
    std::int64_t left = 0;
    int places = 3;
    if (const auto* dollars = std::get_if<quantity::money>(&of.value))
        left = dollars->count(), places = 2;
    else if (const auto* heft = std::get_if<quantity::weight>(&of.value))
        left = heft->count();
    else
        return {};
    bool any = false;
    for (const auto& row : rows) {
        any = any || row.adds;
        left -= row.adds.value_or(0);
    }
    return any && left != 0 ? quantity::fixed_text(left, places) : std::string{};
}

std::string shown_value(const figure& of) {
    if (const auto* real = std::get_if<figures::real>(&of.value)) return fmt::format("{:.6g}", *real);
    return figures::text_of(of.value);
}

struct described {
    std::string key, date, values;
    ledger::journal_entry entry;
};

described describe(const ledger::ledger_file& file, const evidence_row& row) {
    described made;
    file.with_entry(row.which, row.entry, [&](const ledger::stored_row& stored) {
        const auto& kind = ledger::info(row.which);
        made.key = ledger::key_for_people(stored.values);
        if (kind.date_column) made.date = stored.values[*kind.date_column];
        for (std::size_t i = 0; i < kind.columns.size(); ++i)
            if (!stored.values[i].empty() && !kind.columns[i].personal && i != kind.date_column && i != kind.key[0])
                made.values +=
                    fmt::format("{}{}={}", made.values.empty() ? "" : " ", kind.columns[i].name, stored.values[i]);
    });
    file.for_each_journal_entry(row.entry, row.entry, [&](const ledger::journal_entry& entry) { made.entry = entry; });
    return made;
}

std::string origin(const ledger::journal_entry& entry) {
    if (entry.line) return fmt::format("{}:{}", entry.source, *entry.line);
    return fmt::format("{} by {}", entry.command, entry.who);
}

const figure& figure_named(const figures::report& report, const std::string& name) {
    if (const auto* found = report.find(name)) return *found;
    throw ledger::input_error(fmt::format("no figure is called '{}'; see: tarewell quarter show {}", name,
                                          quantity::text_of(report.basis.quarter)));
}

void trace_figure(const options& how, const figures::report& report, const season_view& seen, context& with) {
    const auto& of = figure_named(report, how.figure);
    const auto evidence = figures::evidence_of(of.name, report.basis, seen.season, seen.reckoning);
    const auto left = on_no_row(of, evidence);
    if (how.json) {
        json whole{{"figure", of.name},
                   {"quarter", how.quarter},
                   {"value", render::json_of(of.value)},
                   {"unit", of.unit},
                   {"as_of", seen.as_of}};
        if (!of.reason.empty()) whole["reason"] = of.reason;
        whole["unit_of_adds"] = unit_of_adds(of, seen);
        if (!left.empty()) whole["on_no_row"] = left;
        auto& rows = whole["rows"] = json::array();
        for (const auto& row : evidence) {
            const auto text = describe(seen.file, row);
            const auto adds = adds_text(of, row);
            rows.push_back({{"kind", ledger::info(row.which).name},
                            {"key", text.key},
                            {"entry", row.entry},
                            {"date", text.date.empty() ? json(nullptr) : json(text.date)},
                            {"adds", adds.empty() ? json(nullptr) : json(adds)},
                            {"from", origin(text.entry)}});
        }
        with.out << whole.dump(2) << '\n';
        return;
    }
    const auto value = figures::text_of(of.value);
    with.out << fmt::format("{} of {}: {} {}\n{}\n\n", of.name, how.quarter,
                            value.empty() ? "undefined, since " + of.reason : value, value.empty() ? "" : of.unit,
                            of.meaning + ".");
    text_table table{{"kind", "record", "entry", "date", "adds", "taken in from", "as written"}};
    for (const auto& row : evidence) {
        auto text = describe(seen.file, row);
        table.add({std::string{ledger::info(row.which).name}, text.key, fmt::format("{}", row.entry), text.date,
                   adds_text(of, row), origin(text.entry), text.values});
    }
    table.print(with.out);
    if (!left.empty())
        with.out << fmt::format("\non no row, since the award's percent gives it: {} {}\n", left, of.unit);
}

/// The other way: from a row to every figure that stands on it.
void trace_record(const options& how, const figures::report& report, const season_view& seen, context& with) {
    const auto* kind = ledger::find_kind(how.kind);
    std::vector<ledger::entry_no> entries;
    seen.file.for_each(kind->which, seen.as_of, [&](const ledger::stored_row& stored) {
        const auto key = ledger::key_for_people(stored.values);
        if (key == how.key || stored.values[kind->key[0]] == how.key) entries.push_back(stored.entry);
    });
    if (entries.empty())
        throw ledger::input_error(fmt::format("the ledger holds no {} '{}'; mend the id", kind->name, how.key));
    json list = json::array();
    text_table table{{"figure", "adds", "of", "figure's value", "unit"}};
    for (const auto& of : report.figures)
        for (const auto& row : figures::evidence_of(of.name, report.basis, seen.season, seen.reckoning)) {
            if (row.which != kind->which || std::find(entries.begin(), entries.end(), row.entry) == entries.end())
                continue;
            const auto adds = adds_text(of, row);
            list.push_back({{"figure", of.name},
                            {"entry", row.entry},
                            {"adds", adds.empty() ? json(nullptr) : json(adds)},
                            {"value", render::json_of(of.value)}});
            table.add({of.name, adds, adds.empty() ? "" : unit_of_adds(of, seen), shown_value(of), of.unit});
        }
    if (how.json)
        with.out << json{{"kind", kind->name}, {"key", how.key}, {"quarter", how.quarter}, {"figures", std::move(list)}}
                        .dump(2)
                 << '\n';
    else if (list.empty())
        with.out << fmt::format("{} {} moves no figure of {}\n", kind->name, how.key, how.quarter);
    else
        table.print(with.out);
}

void run_trace(const options& how, context& with) {
    if (how.kind.empty() == how.figure.empty())
        throw ledger::input_error("name a figure, or a record with --record KIND --key KEY");
    if (how.quarter.empty())
        throw ledger::input_error("--quarter is missing; name the quarter, such as --quarter 2026-Q3");
    const auto shown = view_quarter(with, how.quarter, how.as_of);
    const auto& seen = shown.seen;
    const auto& report = shown.report;
    if (!how.figure.empty())
        trace_figure(how, report, seen, with);
    else
        trace_record(how, report, seen, with);
}

} // namespace

void add_trace(const command& program, context& with) {
    auto sub = program.add("trace", "the rows behind a figure, or the figures that a row moves");
    auto& how = program.keep<options>();
    std::vector<std::string> kinds;
    for (const auto& kind : ledger::recorded_kinds())
        kinds.emplace_back(kind.name);
    sub.value("FIGURE", how.figure, "a figure's name, such as diverted_weight");
    sub.value("--quarter", how.quarter, "such as 2026-Q3");
    auto record = sub.value("--record", how.kind, "a kind of record, to see what it moves").one_of(kinds);
    auto key = sub.value("--key", how.key, "the record's id");
    record.needs(key);
    key.needs(record);
    sub.value("--as-of", how.as_of, "as the ledger stood after this entry");
    sub.flag("--json", how.json, "for machines");
    sub.does([&how, &with] { run_trace(how, with); });
}

} // namespace tarewell::cli
