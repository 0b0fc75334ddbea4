#include "desk/trace.hpp"

#include "desk/journal.hpp"
#include "desk/quarter.hpp"
#include "records/nearest_name.hpp"

#include <algorithm>

namespace tarewell::desk {
namespace {

using figures::figure;
using reconcile::evidence_row;

/// What rows add, in the figure's own way of writing.
std::string adds_text(const figure& of, std::int64_t adds) {
    if (std::holds_alternative<quantity::money>(of.value)) return quantity::fixed_text(adds, 2);
    if (std::holds_alternative<std::int64_t>(of.value)) return fmt::format("{}", adds);
    return quantity::fixed_text(adds, 3);
}
std::string adds_text(const figure& of, const evidence_row& row) {
    return row.adds ? adds_text(of, *row.adds) : std::string{};
}

cell adds_of(const figure& of, const evidence_row& row) {
    const auto text = adds_text(of, row);
    return {text, text.empty() ? value{} : value{text}};
}

/// What rows add is in whole units, whatever the figure makes of their sum.
std::string unit_of_adds(const figure& of, const season_view& seen) {
    return of.unit == "tons" ? seen.unit() : of.unit;
}

/// What of a figure stands on no row, since a percent or a limit gives it (indirect costs, match required, cash); none
/// for a ratio, which its rows decide and add nothing to.
std::optional<std::int64_t> on_no_row(const figure& of, const std::vector<evidence_row>& rows) {
    std::int64_t left = 0;
    if (const auto* dollars = std::get_if<quantity::money>(&of.value))
        left = dollars->count();
    else if (const auto* heft = std::get_if<quantity::weight>(&of.value))
        left = heft->count();
    else if (const auto* count = std::get_if<std::int64_t>(&of.value))
        left = *count;
    else
        return std::nullopt;
    for (const auto& row : rows)
        left -= row.adds.value_or(0);
    return left;
}

bool adds_nothing(const std::vector<evidence_row>& rows) {
    return std::none_of(rows.begin(), rows.end(), [](const evidence_row& row) { return row.adds.has_value(); });
}

struct described {
    std::string key, date, values;
    ledger::journal_entry entry;

    [[nodiscard]] std::string origin() const {
        if (entry.line) return fmt::format("{}:{}", entry.source, *entry.line);
        return fmt::format("{} by {}", entry.command, entry.who);
    }
};

described describe(const ledger::ledger_file& file, const evidence_row& row) {
    described made;
    file.with_entry(row.which, row.entry, [&](const ledger::stored_row& stored) {
        const auto& kind = records::info(row.which);
        made.key = records::key_for_people(stored.values);
        std::vector<std::size_t> told{kind.key[0]};
        if (kind.date_column) {
            made.date = stored.values[*kind.date_column];
            told.push_back(*kind.date_column);
        }
        made.values = written_values(stored, told);
    });
    file.for_each_journal_entry(row.entry, row.entry, [&](const ledger::journal_entry& entry) { made.entry = entry; });
    return made;
}

} // namespace

answer rows_behind(const quarter_seen& shown, const std::string& name) {
    const auto quarter = quantity::text_of(shown.report.basis.period);
    const auto* found = shown.report.find(name);
    if (found == nullptr) {
        std::vector<std::string> names;
        for (const auto& each : shown.report.figures)
            names.push_back(each.name);
        throw records::input_error(fmt::format("no figure is called '{}'; see: tarewell quarter show {}{}", name,
                                               quarter, records::did_you_mean(name, names)));
    }
    const auto& of = *found;
    const auto evidence = figures::evidence_of(of.name, shown.report.basis, shown.seen.season, shown.seen.reckoning);
    table rows{{"kind", "record=key", "entry", "date", "adds", "recorded from=from", "as written="}};
    for (const auto& row : evidence) {
        const auto text = describe(shown.seen.file, row);
        rows.add({records::info(row.which).name, text.key, row.entry,
                  cell{text.date, text.date.empty() ? value{} : value{text.date}}, adds_of(of, row), text.origin(),
                  text.values});
    }
    answer made;
    made.data = {{"figure", of.name},
                 {"quarter", quarter},
                 {"value", value_of(of.value)},
                 {"unit", of.unit},
                 {"as_of", shown.seen.as_of}};
    if (!of.reason.empty()) made.data["reason"] = of.reason;
    made.data["unit_of_adds"] = unit_of_adds(of, shown.seen);
    const auto left = on_no_row(of, evidence);
    if (left.value_or(0) != 0) made.data["on_no_row"] = adds_text(of, *left);
    const auto text = figures::shown(of.value, of.unit);
    made.say("{} of {}: {} {}\n{}.\n\n", of.name, quarter, text.empty() ? "undefined, since " + of.reason : text,
             text.empty() ? "" : of.unit, of.meaning);
    made.tell("rows", rows);
    if (!left)
        made.say("\non no row: {}\n", adds_nothing(evidence) ? "the whole; its rows decide it and add nothing to it"
                                                             : "nothing; the figure is worked out from what they add");
    else if (*left == 0)
        made.say("\non no row: nothing; the rows add up to the figure\n");
    else
        made.say("\non no row, since a percent or a limit gives it: {} {}\n", adds_text(of, *left), of.unit);
    return made;
}

answer figures_moved_by(const quarter_seen& shown, const records::kind_info& kind, const std::string& key) {
    const auto quarter = quantity::text_of(shown.report.basis.period);
    std::vector<entry_no> entries;
    shown.seen.file.for_each(kind.which, shown.seen.as_of, [&](const ledger::stored_row& stored) {
        if (records::key_for_people(stored.values) == key || stored.values[kind.key[0]] == key)
            entries.push_back(stored.entry);
    });
    if (entries.empty())
        throw records::input_error(fmt::format("the ledger holds no {} '{}'; mend the id", kind.name, key));
    table moved{{"figure", "=entry", "adds", "of=", "figure's value=value", "unit="}};
    for (const auto& of : shown.report.figures)
        for (const auto& row :
             figures::evidence_of(of.name, shown.report.basis, shown.seen.season, shown.seen.reckoning)) {
            if (row.which != kind.which || std::find(entries.begin(), entries.end(), row.entry) == entries.end())
                continue;
            const auto adds = adds_of(of, row);
            moved.add({of.name, row.entry, adds, adds.text.empty() ? "" : unit_of_adds(of, shown.seen),
                       cell{figures::shown(of.value, of.unit), value_of(of.value)}, of.unit});
        }
    answer made;
    made.data = {{"kind", kind.name}, {"key", key}, {"quarter", quarter}, {"figures", moved.rows()}};
    if (moved.empty())
        made.say("{} {} moves no figure of {}\n", kind.name, key, quarter);
    else
        made.show(moved);
    return made;
}

} // namespace tarewell::desk
