#include "intake/session.hpp"

#include "intake/csv.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>

namespace tarewell::intake {

using namespace ledger; // NOLINT

owned_row::owned_row(const row& values) : row_{values} {
    for (auto& cell : row_.cells)
        if (!cell.empty()) cell = texts_.emplace_back(cell);
}

owned_row& owned_row::operator=(const owned_row& other) {
    if (this == &other) return *this;
    const owned_row copy{other.row_};
    texts_.clear();
    row_ = copy.row_;
    for (auto& cell : row_.cells)
        if (!cell.empty()) cell = texts_.emplace_back(cell);
    return *this;
}

void owned_row::set(std::size_t column, std::string_view text) {
    row_.cells[column] = text.empty() ? std::string_view{} : std::string_view{texts_.emplace_back(text)};
}

std::string bytes_of(const std::string& path) {
    if (std::filesystem::is_directory(path)) throw io_error(path + " is a folder; name a file");
    std::ifstream file{path, std::ios::binary | std::ios::ate};
    if (!file) throw io_error(fmt::format("{} cannot be read: {}", path, std::strerror(errno)));
    std::string text(static_cast<std::size_t>(file.tellg()), '\0');
    file.seekg(0);
    if (!text.empty() && !file.read(text.data(), static_cast<std::streamsize>(text.size())))
        throw io_error(fmt::format("{} could not be read to its end", path));
    return text;
}

bool same_value(const column& column, std::string_view a, std::string_view b) {
    if (a == b) return true;
    if (a.empty() || b.empty()) return false;
    switch (column.type) {
    case column_type::positive:
    case column_type::nonnegative:
    case column_type::amount:
    case column_type::credit:
    case column_type::count:
    case column_type::month:
        return quantity::decimal_of(a) == quantity::decimal_of(b);
    default:
        return false;
    }
}

session::session(ledger_file& file, const surroundings& around, bool writes)
    : file_{file}, writer_{writes ? std::make_unique<writer>(file, around) : nullptr}, head_{file.head().seq},
      replacements_{file.replacements(head_)}, season_{load_season(file, head_,
                                                                   [this](const stored_row& stored) { see(stored); })},
      checker_{season_}, next_entry_{head_ + 1} {
    see_voids(head_);
}

void session::see(const stored_row& stored) {
    keys_[static_cast<std::size_t>(stored.values.which)].emplace(key_of(stored.values), key_state{stored.entry});
}

void session::see_voids(entry_no head) {
    for (const auto& each : file_.voids(head)) {
        const auto* kind = find_kind(each.kind);
        if (kind == nullptr) continue;
        file_.with_entry(kind->which, each.replaces, [&](const stored_row& stored) {
            keys_[static_cast<std::size_t>(kind->which)].insert_or_assign(key_of(stored.values),
                                                                          key_state{each.entry, true});
        });
    }
}

bool session::equals_stored(const row& values, entry_no entry, bool& erased) const {
    bool equal = false;
    file_.with_entry(values.which, entry, [&](const stored_row& stored) {
        const auto& columns = info(values.which).columns;
        equal = true;
        erased = values.which == kind::grower && stored.values[1].empty();
        for (std::size_t i = 0; i < columns.size(); ++i)
            if (!(erased && columns[i].personal)) equal = equal && same_value(columns[i], values[i], stored.values[i]);
    });
    return equal;
}

bool session::equals_earlier(const row& values) const {
    const auto key = key_of(values);
    bool erased = false;
    for (const auto& [replaced, by] : replacements_) {
        bool same_key = false;
        file_.with_entry(values.which, replaced,
                         [&](const stored_row& stored) { same_key = key_of(stored.values) == key; });
        if (same_key && equals_stored(values, replaced, erased)) return true;
    }
    return false;
}

session::standing session::stand(const row& values, const std::string& key, const complaint& complain,
                                 std::string& note) {
    auto& keys = keys_[static_cast<std::size_t>(values.which)];
    const auto& kind = info(values.which);
    const auto found = keys.find(key);
    if (found == keys.end()) return standing::fresh;
    const auto known = found->second;
    const auto name = fmt::format("{} {}", kind.name, key_for_people(values));
    const auto key_column = kind.columns[kind.key[kind.key_columns - 1]].name;
    if (known.in_this_file) {
        complain(key_column, fmt::format("{} stands in line {} already", name, known.line),
                 "each record stands once; take one of the rows out");
        return standing::refused;
    }
    bool erased = false;
    if (!known.voided && equals_stored(values, known.entry, erased)) {
        if (erased) note = fmt::format("{}: the contact details were erased on request and stay so", name);
        return standing::known;
    }
    if (equals_earlier(values)) {
        note = known.voided ? fmt::format("{} was voided by entry {} and stays so", name, known.entry)
                            : fmt::format("{} was corrected by entry {}, which stands", name, known.entry);
        return standing::known;
    }
    if (known.voided)
        complain(key_column, fmt::format("{} was voided by entry {}", name, known.entry),
                 fmt::format("bring it back with: tarewell correct {} {}", kind.name, key_for_people(values)));
    else
        complain(key_column, fmt::format("{} is in the ledger with other values (entry {})", name, known.entry),
                 fmt::format("to change it use: tarewell correct {} {}", kind.name, key_for_people(values)));
    return standing::refused;
}

entry_no session::append(row& values, std::string key, std::size_t line) {
    checker_.work_out(values);
    entry_no entry = next_entry_++;
    if (writer_) {
        const auto at = line == 0 ? std::nullopt : std::optional{static_cast<std::int64_t>(line)};
        entry = writer_->append(values, deed::record, std::nullopt, at);
    }
    checker_.admit(values, entry, entry, line);
    keys_[static_cast<std::size_t>(values.which)].emplace(
        std::move(key), key_state{entry, false, true, static_cast<std::uint32_t>(line)});
    return entry;
}

bool session::read_header(const std::vector<std::string_view>& names, ledger::kind which,
                          std::vector<std::size_t>& places, const complaint& complain) const {
    const auto& kind = info(which);
    std::vector<std::string_view> known_names;
    for (const auto& column : kind.columns)
        known_names.push_back(column.name);
    std::vector<bool> seen(kind.columns.size());
    bool good = true;
    if (names.size() == 1 && names[0].find_first_of(";\t") != std::string_view::npos) {
        complain(kind.columns[kind.key[0]].name, "the columns are not set apart by commas",
                 "save the sheet as CSV UTF-8 with commas");
        return false;
    }
    for (const auto name : names) {
        const auto place = kind.find(name);
        places.push_back(place.value_or(0));
        if (!place) {
            complain(name.empty() ? "(no name)" : name, "is no column of this file",
                     fmt::format("the columns are {}", fmt::join(known_names, ", ")));
            good = false;
        } else if (seen[*place]) {
            complain(name, "stands twice in the header", "name each column once");
            good = false;
        } else {
            seen[*place] = true;
        }
    }
    for (std::size_t i = 0; i < seen.size(); ++i)
        if (!seen[i] && kind.columns[i].required) {
            complain(kind.columns[i].name, "the column is missing", "add it to the header");
            good = false;
        }
    return good;
}

struct session::file_reading {
    ledger::kind which;
    file_summary summary;
    std::vector<std::size_t> places;
    std::vector<finding>& findings;
    bool text_is_clean = true;
    std::size_t line = 0;
    complaint complain;
    complaint complain_of_form; ///< a key that can't be read leaves the rows that name it without blame
    bool form_only = false;     ///< the award was refused: nothing can be held against it
};

void session::take_row(file_reading& reading, const std::vector<std::string_view>& fields, std::size_t line) {
    reading.line = line;
    const auto& kind = info(reading.which);
    row values;
    values.which = reading.which;
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
        if (!values[kind.key[0]].empty()) checker_.excuse(values);
        return;
    }
    std::string note;
    bool good = reading.text_is_clean || check_text(values, reading.complain_of_form);
    good = good && check_format(values, reading.complain_of_form);
    std::string key = key_of(values);
    if (good) {
        const auto where = stand(values, key, reading.complain, note);
        if (where == standing::known) {
            ++reading.summary.known;
            if (!note.empty()) reading.summary.notes.push_back(std::move(note));
            return;
        }
        good = where == standing::fresh && !reading.form_only && checker_.check(values, reading.complain);
    }
    if (!good) {
        checker_.excuse(values);
        return;
    }
    const auto entry = append(values, std::move(key), line);
    if (reading.summary.first == 0) reading.summary.first = entry;
    reading.summary.last = entry;
    ++reading.summary.taken;
}

file_summary session::take(ledger::kind which, const std::string& path, std::vector<finding>& findings,
                           const intake_options& options) {
    const auto& kind = info(which);
    const auto first_column = kind.columns[kind.key[0]].name;
    file_reading reading{which, {path, kind.file}, {}, findings, true, 1, {}, {}};
    reading.complain = [&](std::string_view column, std::string what, std::string right) {
        findings.push_back({reading.line, std::string{column}, std::move(what), std::move(right)});
    };
    reading.complain_of_form = [&](std::string_view column, std::string what, std::string right) {
        for (std::size_t i = 0; i < kind.key_columns; ++i)
            if (kind.columns[kind.key[i]].name == column) checker_.excuse_all(which);
        reading.complain(column, std::move(what), std::move(right));
    };
    const auto unreadable = [&](std::size_t line, std::string what, std::string right) {
        findings.push_back({line, std::string{first_column}, std::move(what), std::move(right)});
        checker_.excuse_all(which);
        return reading.summary;
    };
    const std::string text = bytes_of(path);
    if (const auto fault = fault_of_file(text)) return unreadable(fault->line, fault->what, fault->right);
    reading.form_only = needs_award(which) && !season_.the_award;
    if (reading.form_only && !checker_.excuses_any(kind::award))
        return unreadable(1, "the ledger has no award yet", "take in award.csv first");
    if (writer_) {
        sha256 hasher;
        writer_->begin({"intake " + std::string{kind.file},
                        {},
                        {},
                        std::filesystem::path{path}.filename().string(),
                        hex(hasher.of(text))});
    }
    keys_[static_cast<std::size_t>(which)].reserve(
        keys_[static_cast<std::size_t>(which)].size() +
        static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n')));
    reading.text_is_clean = first_bad_byte(text) == std::string_view::npos;
    csv_reader reader{text};
    csv_record record;
    std::optional<csv_fault> fault;
    if (!reader.next(record, fault) || fault)
        return unreadable(1, fault ? fault->what : "the file is empty",
                          fault ? fault->right : "its first line names the columns");
    if (!read_header(record.fields, which, reading.places, reading.complain)) {
        checker_.excuse_all(which);
        return reading.summary;
    }
    while (reader.next(record, fault)) {
        ++reading.summary.rows;
        if (fault) {
            const auto field = std::min(fault->field, reading.places.size() - 1);
            findings.push_back(
                {fault->line, std::string{kind.columns[reading.places[field]].name}, fault->what, fault->right});
            checker_.excuse_all(which);
            continue;
        }
        take_row(reading, record.fields, record.line);
        constexpr std::size_t now_and_then = 8192;
        if (options.progress && reading.summary.rows % now_and_then == 0)
            options.progress(path, reader.position(), text.size());
    }
    if (which == kind::award && reading.summary.rows == 0 && findings.empty())
        return unreadable(1, "the file has no row", "an award has one row");
    checker_.finish(which, [&](std::size_t line, std::string_view column, std::string what, std::string right) {
        findings.push_back({line, std::string{column}, std::move(what), std::move(right)});
    });
    auto& keys = keys_[static_cast<std::size_t>(which)];
    for (auto each = keys.begin(); each != keys.end(); ++each)
        each.value().in_this_file = false;
    return reading.summary;
}

entry_no session::record(owned_row values, std::vector<finding>& findings, std::string& note) {
    const complaint complain = [&](std::string_view column, std::string what, std::string right) {
        findings.push_back({0, "--" + std::string{column}, std::move(what), std::move(right)});
    };
    const auto which = values.values().which;
    if (needs_award(which) && !season_.the_award) {
        complain(info(which).columns[0].name, "the ledger has no award yet", "record the award first");
        return 0;
    }
    if (!check_text(values.values(), complain) || !check_format(values.values(), complain)) return 0;
    std::string key = key_of(values.values());
    switch (stand(values.values(), key, complain, note)) {
    case standing::known:
        if (note.empty()) note = "the ledger holds this already; nothing was changed";
        return 0;
    case standing::refused:
        return 0;
    case standing::fresh:
        break;
    }
    if (!checker_.check(values.values(), complain)) return 0;
    const auto entry = append(values.values(), std::move(key), 0);
    checker_.finish(which, [&](std::size_t, std::string_view column, std::string what, std::string right) {
        complain(column, std::move(what), std::move(right));
    });
    return entry;
}

} // namespace tarewell::intake
