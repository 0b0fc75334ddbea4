#include "intake/session.hpp"

#include "intake/format_check.hpp"
#include "intake/header.hpp"
#include "intake/undo.hpp"
#include "ledger/load_season.hpp"

#include <fmt/format.h>
#include <tsl/robin_map.h>

#include <algorithm>
#include <unordered_map>

namespace tarewell::intake {

using namespace records; // NOLINT
using namespace ledger;  // NOLINT
using namespace records; // NOLINT

struct session::key_maps {
    using map = tsl::robin_map<std::string, key_state>;
    std::array<map, kind_count> states;
    std::array<std::optional<std::unordered_multimap<std::string, entry_no>>, kind_count> replaced;

    map& of(kind which) { return states[static_cast<std::size_t>(which)]; }

    /// The entries of a key that were replaced; the kind's are looked up once, when first asked for.
    std::vector<entry_no> earlier(const ledger_file& file, entry_no head, kind which, const std::string& key) {
        auto& of_kind = replaced[static_cast<std::size_t>(which)];
        if (!of_kind) {
            of_kind.emplace();
            for (const auto& [entry, by] : file.replacements(head))
                file.with_entry(which, entry,
                                [&](const stored_row& stored) { of_kind->emplace(key_of(stored.values), entry); });
        }
        std::vector<entry_no> found;
        for (auto [at, end] = of_kind->equal_range(key); at != end; ++at)
            found.push_back(at->second);
        return found;
    }
};

session::session(ledger_file& file, const surroundings& around, bool writes)
    : file_{file}, writer_{writes ? std::make_unique<writer>(file, around) : nullptr}, head_{file.head().seq},
      keys_{std::make_unique<key_maps>()}, season_{load_season(file, head_,
                                                               [this](const stored_row& stored) { see(stored); })},
      rules_{season_}, next_entry_{head_ + 1} {
    see_voids();
    if (const auto today = quantity::read_day(around.now().substr(0, 10))) season_.learn_day(next_entry_, *today);
}

session::~session() = default;

void session::see(const stored_row& stored) {
    keys_->of(stored.values.which).emplace(key_of(stored.values), key_state{stored.entry});
}

void session::see_voids() {
    for (const auto& each : file_.voids(head_)) {
        const auto* kind = find_kind(each.kind);
        if (kind == nullptr) continue;
        file_.with_entry(kind->which, each.replaces, [&](const stored_row& stored) {
            key_state state{each.entry, true};
            file_.for_each_journal_entry(each.entry, each.entry,
                                         [&](const auto& entry) { state.undone = is_undo(entry.command); });
            keys_->of(kind->which).insert_or_assign(key_of(stored.values), state);
        });
    }
}

standing session::stands(const row& values, const std::string& key, const complaint& complain, std::string& note) {
    const auto& keys = keys_->of(values.which);
    const auto found = keys.find(key);
    if (found == keys.end() || found->second.undone) return standing::fresh;
    return stand(
        file_, values, found->second, [&] { return keys_->earlier(file_, head_, values.which, key); }, complain, note);
}

entry_no session::append(row& values, std::string key, std::size_t line) {
    work_out(values, season_);
    entry_no entry = next_entry_++;
    const auto [at, fresh] = keys_->of(values.which).try_emplace(std::move(key));
    const auto undone = fresh ? std::nullopt : std::optional{at->second.entry};
    if (writer_)
        entry = writer_->append(values, undone ? deed::correct : deed::record, undone, static_cast<std::int64_t>(line));
    rules_.admit(values, entry, line);
    at.value() = key_state{entry, false, true, static_cast<std::uint32_t>(line)};
    return entry;
}

struct session::file_reading {
    const kind_info& kind;
    file_summary& summary;
    std::vector<finding>& findings;
    const row_reader* rows = nullptr;
    std::vector<std::size_t> places = {};
    std::vector<std::string> header = {};
    bool text_is_clean = true;
    bool form_only = false; ///< the award was refused: nothing can be held against it
    std::size_t line = 1;
    std::vector<std::size_t> empty_lines = {}; ///< passed over when nothing follows them
    complaint complain = {};
    complaint complain_of_form = {}; ///< a key that can't be read leaves the rows that name it without blame

    [[nodiscard]] std::string_view first_column() const { return kind.columns[kind.key[0]].name; }
    void find(std::size_t at_line, std::string_view column, std::string what, std::string right) const {
        findings.push_back({at_line, std::string{column}, std::move(what), std::move(right), cell_of(at_line, column)});
    }

  private:
    /// Of a workbook's sheet.
    [[nodiscard]] std::string cell_of(std::size_t at_line, std::string_view column) const {
        if (rows == nullptr) return {};
        const auto at = std::find_if(header.begin(), header.end(),
                                     [&](const std::string& each) { return same_but_for_case(each, column); });
        return rows->cell(at_line, at == header.end() ? 0 : static_cast<std::size_t>(at - header.begin()));
    }
};

void session::take_row(file_reading& reading, const std::vector<std::string_view>& fields, std::size_t line) {
    reading.line = line;
    const auto& kind = reading.kind;
    row values;
    values.which = kind.which;
    for (std::size_t i = 0; i < fields.size() && i < reading.places.size(); ++i)
        values.cells[reading.places[i]] = fields[i];
    if (fields.size() != reading.places.size()) {
        const bool fewer = fields.size() < reading.places.size();
        const auto column = kind.columns[fewer ? reading.places[fields.size()] : reading.places.back()].name;
        reading.complain(
            column,
            fields.size() == 1 && fields[0].empty()
                ? std::string{"the line is empty"}
                : fmt::format("the row has {} values and the header {} columns", fields.size(), reading.places.size()),
            fewer ? "give every column a value, empty where none is known"
                  : "put a value that holds a comma in double quotes");
        if (!values[kind.key[0]].empty()) rules_.refused.excuse(values);
        return;
    }
    std::string note;
    bool good = reading.text_is_clean || check_text(values, reading.complain_of_form);
    tell_words(values);
    good = good && check_format(values, reading.complain_of_form);
    std::string key = key_of(values);
    if (good) {
        const auto where = stands(values, key, reading.complain, note);
        if (where == standing::known) {
            ++reading.summary.known;
            if (!note.empty()) reading.summary.notes.push_back(std::move(note));
            return;
        }
        good = where == standing::fresh && !reading.form_only && rules_.check(values, reading.complain);
    }
    if (!good) return rules_.refused.excuse(values);
    const auto entry = append(values, std::move(key), line);
    if (reading.summary.first == 0) reading.summary.first = entry;
    reading.summary.last = entry;
    reading.summary.lines.push_back(static_cast<std::uint32_t>(line));
    ++reading.summary.taken;
}

void session::begin(act what) {
    if (writer_) writer_->begin(std::move(what));
}

/// False when the header can't be read.
bool session::read_rows(file_reading& reading, row_reader& rows, const intake_options& options) {
    const auto which = reading.kind.which;
    csv_record record;
    std::optional<csv_fault> fault;
    if (!rows.next(record, fault) || fault) {
        reading.complain(reading.first_column(), fault ? fault->what : "the file is empty",
                         fault ? fault->right : "its first line names the columns");
        return false;
    }
    reading.header.assign(record.fields.begin(), record.fields.end());
    reading.line = record.line;
    if (!read_header(record.fields, which, reading.places, reading.complain)) return false;
    while (rows.next(record, fault)) {
        if (!fault && record.fields.size() == 1 && record.fields[0].empty() && reading.places.size() > 1) {
            reading.empty_lines.push_back(record.line);
            continue;
        }
        for (const auto line : reading.empty_lines)
            take_row(reading, {std::string_view{}}, line);
        reading.summary.rows += 1 + reading.empty_lines.size();
        reading.empty_lines.clear();
        if (fault) {
            const auto field = std::min(fault->field, reading.places.size() - 1);
            const auto column = reading.kind.columns[reading.places[field]].name;
            reading.findings.push_back(
                {fault->line, std::string{column}, fault->what, fault->right, rows.cell(fault->line, fault->field)});
            rules_.refused.excuse_all(which);
            continue;
        }
        take_row(reading, record.fields, record.line);
        constexpr std::size_t now_and_then = 8192;
        if (options.progress && reading.summary.rows % now_and_then == 0)
            options.progress(reading.summary.file, rows.position(), rows.whole());
    }
    return true;
}

/// False where nothing of the kind can be taken in yet.
bool session::ready_for(file_reading& reading) {
    const auto& kind = reading.kind;
    reading.complain = [&reading](std::string_view column, std::string what, std::string right) {
        reading.find(reading.line, column, std::move(what), std::move(right));
    };
    reading.complain_of_form = [this, &reading](std::string_view column, std::string what, std::string right) {
        for (std::size_t i = 0; i < reading.kind.key_columns; ++i)
            if (reading.kind.columns[reading.kind.key[i]].name == column) rules_.refused.excuse_all(reading.kind.which);
        reading.complain(column, std::move(what), std::move(right));
    };
    reading.form_only = kind.under_award && !season_.the_award;
    if (!reading.form_only || rules_.refused.any(records::kind::award)) return true;
    reading.find(1, reading.first_column(), "the ledger has no award yet", "take in award.csv first");
    return false;
}

void session::finish(file_reading& reading) {
    const auto which = reading.kind.which;
    if (which == records::kind::award && reading.summary.rows == 0 && reading.findings.empty()) {
        reading.find(1, reading.first_column(), "the file has no row", "an award has one row");
        return rules_.refused.excuse_all(which);
    }
    rules_.finish(which, [&](std::size_t line, std::string_view column, std::string what, std::string right) {
        reading.find(line, column, std::move(what), std::move(right));
    });
    auto& keys = keys_->of(which);
    for (auto each = keys.begin(); each != keys.end(); ++each)
        each.value().in_this_file = false;
}

void session::take_rows(kind which, row_reader& rows, file_summary& summary, std::vector<finding>& findings,
                        const intake_options& options) {
    file_reading reading{info(which), summary, findings};
    if (!ready_for(reading)) return rules_.refused.excuse_all(which);
    reading.rows = &rows;
    auto& keys = keys_->of(which);
    keys.reserve(keys.size() + rows.rows_at_most());
    reading.text_is_clean = rows.is_clean();
    if (!read_rows(reading, rows, options)) return rules_.refused.excuse_all(which);
    finish(reading);
    for (auto& note : rows.notes())
        summary.notes.push_back(std::move(note));
}

file_summary session::take(kind which, table_file& file, const std::string& sheet, std::vector<finding>& findings,
                           const intake_options& options) {
    const auto& kind = info(which);
    file_summary summary{file.path(), kind.file};
    try {
        const auto chosen = table_of_kind(file, which, sheet).sheet;
        summary.file = file.shown(chosen);
        const auto rows = file.rows(chosen);
        begin({"intake " + std::string{kind.file}, {}, {}, file.name(), file.sha256()});
        take_rows(which, *rows, summary, findings, options);
    } catch (const unreadable& wrong) {
        findings.push_back({1, std::string{kind.columns[kind.key[0]].name}, wrong.what(), wrong.right});
        rules_.refused.excuse_all(which);
    }
    return summary;
}

} // namespace tarewell::intake
