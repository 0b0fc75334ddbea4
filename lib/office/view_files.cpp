#include "desk/answer.hpp"
#include "desk/echo.hpp"
#include "desk/labels.hpp"
#include "desk/understood.hpp"
#include "figures/flags.hpp"
#include "intake/intake.hpp"
#include "intake/workbook.hpp"
#include "office/scratch.hpp"
#include "office/sheets.hpp"

#include <fmt/format.h>

namespace tarewell::office {
namespace {

/// What a file would become, or became: one table, or each of a workbook's sheets.
struct taken {
    std::vector<intake::file_summary> tables;
    std::string raised;
    std::vector<std::pair<records::entry_no, std::string>> read_as; ///< the first of its entries
};

/// What the first new entries say, while the file shows them to this process.
std::vector<std::pair<records::entry_no, std::string>> first_read_as(const ledger::ledger_file& file,
                                                                     records::entry_no first_new,
                                                                     const records::season& with_it,
                                                                     const reconcile::reckoning& reckoned) {
    constexpr records::entry_no most = 300;
    std::vector<std::pair<records::entry_no, std::string>> found;
    const auto last = std::min(file.head().seq, first_new + most - 1);
    file.for_each_journal_entry(first_new, last, [&](const ledger::journal_entry& entry) {
        file.with_entry(records::find_kind(entry.kind)->which, entry.seq, [&](const ledger::stored_row& stored) {
            found.emplace_back(entry.seq, desk::understood(with_it, reckoned, stored));
        });
    });
    return found;
}

std::vector<intake::file_summary> take_from(const std::string& path, state& of, const waiting_file& file,
                                            const intake::intake_options& how) {
    auto& ledger = of.kept.file();
    if (file.kind.empty()) return intake::take_tables(ledger, path, of.around, how);
    return {intake::take_file(ledger, records::find_kind(file.kind)->which, path, of.around, how)};
}

/// A dry run writes no rows. So that each can be told as it would be understood, they are written and taken back.
void read_rows_of(taken& made, const std::string& path, state& of, const waiting_file& file,
                  records::entry_no first_new) {
    struct only_looked {};
    intake::intake_options how;
    how.seen = [&](const records::season& with_it) {
        made.read_as = first_read_as(of.kept.file(), first_new, with_it, reconcile::reckon(with_it));
        throw only_looked{};
    };
    try {
        (void)take_from(path, of, file, how);
    } catch (const only_looked&) { // NOLINT(bugprone-empty-catch): as meant
    }
}

taken take(state& of, const waiting_file& file, bool dry_run) {
    const scratch_folder folder;
    const auto path = folder.write(file.name, file.bytes);
    const auto before = path.substr(0, path.size() - plain_name(file.name).size());
    const auto first_new = of.kept.file().head().seq + 1;
    const bool small = first_new <= desk::most_entries_told_at_once;
    std::vector<reconcile::flag> flags;
    taken made;
    intake::intake_options how{dry_run, {}, [&](const records::season& with_it) {
                                   if (small) flags = figures::flags_of(with_it, reconcile::reckon(with_it));
                               }};
    try {
        made.tables = take_from(path, of, file, how);
        for (auto& each : made.tables)
            each.file = lines_without({each.file}, before)[0];
        made.raised = desk::raised_by_intake(flags, first_new, made.tables);
        const bool anything =
            std::any_of(made.tables.begin(), made.tables.end(), [](const auto& each) { return each.taken > 0; });
        if (dry_run && small && anything) read_rows_of(made, path, of, file, first_new);
        return made;
    } catch (const records::refused& refusal) {
        throw records::refused(lines_without(refusal.lines(), before));
    }
}

value kinds_of_files(const std::string& chosen) {
    auto kinds = value::array();
    for (const auto& kind : records::recorded_kinds())
        kinds.push_back({{"kind", kind.name},
                         {"label", fmt::format("{} ({}.csv)", desk::label_of(kind), kind.file)},
                         {"chosen", chosen == kind.name}});
    return kinds;
}

/// The kind that a file's name tells, as receipts.csv or receipts-2026-10-03.csv does.
std::string kind_told_by(const std::string& name) {
    std::string found;
    std::size_t longest = 0;
    for (const auto& kind : records::recorded_kinds())
        if (name.starts_with(kind.file) && kind.file.size() > longest) {
            found = kind.name;
            longest = kind.file.size();
        }
    return found;
}

value blank_data(state& of, const std::string& kind) {
    value data{{"kinds", kinds_of_files(kind)}, {"seen", nullptr}, {"done", nullptr}};
    put_list(data, "wrong", value::array());
    auto maps = value::array();
    for (const auto& each : names_of_maps(of))
        maps.push_back({{"name", each}, {"link", "/map?name=" + in_query(each)}});
    put_list(data, "maps", std::move(maps));
    return data;
}

/// "row 3: T0003: bale L2 from S2, net 340 lb"; of a workbook's sheets with the sheet's name.
value rows_read(const taken& of) {
    auto rows = value::array();
    for (const auto& [entry, sentence] : of.read_as)
        for (const auto& table : of.tables)
            if (table.taken > 0 && entry >= table.first && entry <= table.last)
                rows.push_back(fmt::format("{}row {}: {}",
                                           of.tables.size() > 1 ? fmt::format("{}, ", table.kind_file) : "",
                                           table.lines[static_cast<std::size_t>(entry - table.first)], sentence));
    return rows;
}

value summary_data(const taken& of, const std::string& file) {
    std::size_t rows = 0, fresh = 0, known = 0;
    records::entry_no first = 0, last = 0;
    std::vector<std::string> notes;
    for (const auto& each : of.tables) {
        rows += each.rows;
        fresh += each.taken;
        known += each.known;
        if (each.taken > 0) {
            first = first == 0 ? each.first : std::min(first, each.first);
            last = std::max(last, each.last);
        }
        notes.insert(notes.end(), each.notes.begin(), each.notes.end());
    }
    value data{{"file", file},   {"rows", rows}, {"new", fresh},        {"known", known == 0 ? value{} : value{known}},
               {"first", first}, {"last", last}, {"any_new", fresh > 0}};
    put_list(data, "notes", notes);
    put_list(data, "raised", lines_of(of.raised));
    put_list(data, "read", rows_read(of));
    const auto shown = data["read"].list()->size();
    data["more"] = fresh > shown && shown > 0 ? value{fresh - shown} : value{};
    return data;
}

response show_refused(state& of, const waiting_file& file, const records::refused& refusal) {
    auto data = blank_data(of, file.kind);
    put_list(data, "wrong", refusal.lines());
    data["file"] = plain_name(file.name);
    data["count"] = desk::counted(refusal.lines().size(), "fault", "faults");
    return page(of, "files", "Files", std::move(data), 422);
}

response look_at(state& of, waiting_file file) {
    try {
        auto data = blank_data(of, file.kind);
        data["seen"] = summary_data(take(of, file, true), plain_name(file.name));
        const auto name = of.around.random();
        data["seen"]["waiting"] = name;
        of.waiting.keep(name, std::move(file));
        return page(of, "files", "Files", std::move(data));
    } catch (const records::refused& refusal) {
        return show_refused(of, file, refusal);
    }
}

/// A sheet that is laid out in a way of its own: by a map that is kept, or by one that its headings let one think.
response look_by_map(state& of, waiting_file file, const std::string& layout) {
    constexpr std::string_view kept = "map-";
    sheet_page sheet;
    if (layout.starts_with(kept)) {
        sheet.map = layout.substr(kept.size());
        sheet.text = kept_map(of, sheet.map);
    } else
        sheet.text = proposed_for(file);
    sheet.waiting = of.around.random();
    of.waiting.keep(sheet.waiting, std::move(file));
    return show_sheet(of, sheet);
}

} // namespace

std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> lines;
    for (std::size_t from = 0; from < text.size();) {
        const auto end = std::min(text.find('\n', from), text.size());
        if (end > from) lines.push_back(text.substr(from, end - from));
        from = end + 1;
    }
    return lines;
}

response show_files(state& of, const call& /*from*/) { return page(of, "files", "Files", blank_data(of, {})); }

response take_file(state& of, const call& from) {
    if (from.sent.has("waiting")) {
        const auto* file = of.waiting.find(from.sent.text("waiting"));
        if (file == nullptr) throw records::input_error("that file is not at hand any more; send it once more");
        try {
            auto data = blank_data(of, {});
            const auto made = take(of, *file, false);
            data["done"] = summary_data(made, plain_name(file->name));
            records::entry_no last = 0;
            for (const auto& each : made.tables)
                last = std::max(last, each.last);
            const auto act = act_of(of.kept.file(), last);
            data["done"]["act"] = act == 0 ? value{} : value{act};
            return page(of, "files", "Files", std::move(data));
        } catch (const records::refused& refusal) { // the ledger moved since it was looked at
            return show_refused(of, *file, refusal);
        }
    }
    const auto* sent = from.sent.find("file");
    if (sent == nullptr || !sent->file_name || sent->file_name->empty())
        throw records::input_error("no file was sent; choose one and send it again");
    waiting_file file{from.sent.text("kind"), *sent->file_name, sent->value};
    const auto layout = from.sent.text("layout");
    if (!layout.empty()) return look_by_map(of, std::move(file), layout);
    if (file.kind.empty()) file.kind = kind_told_by(plain_name(file.name));
    if (file.kind.empty() && intake::is_workbook_name(file.name)) return look_at(of, std::move(file));
    const auto* kind = records::find_kind(file.kind);
    if (kind == nullptr || kind->internal)
        throw records::input_error(
            fmt::format("the name {} does not say what it holds; choose it from the list, or let a map be proposed",
                        plain_name(file.name)));
    return look_at(of, std::move(file));
}

} // namespace tarewell::office
