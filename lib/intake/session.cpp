#include "intake/session.hpp"

#include "intake/csv.hpp"
#include "intake/format_check.hpp"
#include "intake/header.hpp"
#include "ledger/load_season.hpp"

#include <fmt/format.h>
#include <tsl/robin_map.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <unordered_map>

namespace tarewell::intake {

using namespace records; // NOLINT
using namespace ledger;  // NOLINT
using namespace records; // NOLINT

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
            keys_->of(kind->which).insert_or_assign(key_of(stored.values), key_state{each.entry, true});
        });
    }
}

standing session::stands(const row& values, const std::string& key, const complaint& complain, std::string& note) {
    const auto& keys = keys_->of(values.which);
    const auto found = keys.find(key);
    if (found == keys.end()) return standing::fresh;
    return stand(
        file_, values, found->second, [&] { return keys_->earlier(file_, head_, values.which, key); }, complain, note);
}

entry_no session::append(row& values, std::string key, std::size_t line) {
    work_out(values, season_);
    entry_no entry = next_entry_++;
    if (writer_) entry = writer_->append(values, deed::record, std::nullopt, static_cast<std::int64_t>(line));
    rules_.admit(values, entry, line);
    keys_->of(values.which).emplace(std::move(key), key_state{entry, false, true, static_cast<std::uint32_t>(line)});
    return entry;
}

struct session::file_reading {
    const kind_info& kind;
    file_summary summary;
    std::vector<std::size_t> places;
    std::vector<finding>& findings;
    bool text_is_clean = true;
    bool form_only = false; ///< the award was refused: nothing can be held against it
    std::size_t line = 1;
    std::vector<std::size_t> empty_lines; ///< passed over when nothing follows them
    complaint complain;
    complaint complain_of_form; ///< a key that can't be read leaves the rows that name it without blame

    [[nodiscard]] std::string_view first_column() const { return kind.columns[kind.key[0]].name; }
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

void session::begin(kind which, const std::string& path, const std::string& text) {
    if (!writer_) return;
    sha256 hasher;
    writer_->begin({"intake " + std::string{info(which).file},
                    {},
                    {},
                    std::filesystem::path{path}.filename().string(),
                    hex(hasher.of(text))});
}

/// False when the header can't be read.
bool session::read_rows(file_reading& reading, const std::string& text, const intake_options& options) {
    const auto which = reading.kind.which;
    csv_reader reader{text};
    csv_record record;
    std::optional<csv_fault> fault;
    if (!reader.next(record, fault) || fault) {
        reading.complain(reading.first_column(), fault ? fault->what : "the file is empty",
                         fault ? fault->right : "its first line names the columns");
        return false;
    }
    if (!read_header(record.fields, which, reading.places, reading.complain)) return false;
    while (reader.next(record, fault)) {
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
            reading.findings.push_back({fault->line, std::string{column}, fault->what, fault->right});
            rules_.refused.excuse_all(which);
            continue;
        }
        take_row(reading, record.fields, record.line);
        constexpr std::size_t now_and_then = 8192;
        if (options.progress && reading.summary.rows % now_and_then == 0)
            options.progress(reading.summary.file, reader.position(), text.size());
    }
    return true;
}

file_summary session::take(kind which, const std::string& path, std::vector<finding>& findings,
                           const intake_options& options) {
    const auto& kind = info(which);
    file_reading reading{kind, {path, kind.file}, {}, findings};
    reading.complain = [&](std::string_view column, std::string what, std::string right) {
        findings.push_back({reading.line, std::string{column}, std::move(what), std::move(right)});
    };
    reading.complain_of_form = [&](std::string_view column, std::string what, std::string right) {
        for (std::size_t i = 0; i < kind.key_columns; ++i)
            if (kind.columns[kind.key[i]].name == column) rules_.refused.excuse_all(which);
        reading.complain(column, std::move(what), std::move(right));
    };
    const auto unreadable = [&](std::size_t line, std::string what, std::string right) {
        findings.push_back({line, std::string{reading.first_column()}, std::move(what), std::move(right)});
        rules_.refused.excuse_all(which);
        return reading.summary;
    };
    const std::string text = bytes_of(path);
    if (const auto fault = fault_of_file(text)) return unreadable(fault->line, fault->what, fault->right);
    reading.form_only = kind.under_award && !season_.the_award;
    if (reading.form_only && !rules_.refused.any(records::kind::award))
        return unreadable(1, "the ledger has no award yet", "take in award.csv first");
    begin(which, path, text);
    auto& keys = keys_->of(which);
    keys.reserve(keys.size() + static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n')));
    reading.text_is_clean = first_bad_byte(text) == std::string_view::npos;
    if (!read_rows(reading, text, options)) {
        rules_.refused.excuse_all(which);
        return reading.summary;
    }
    if (which == records::kind::award && reading.summary.rows == 0 && findings.empty())
        return unreadable(1, "the file has no row", "an award has one row");
    rules_.finish(which, [&](std::size_t line, std::string_view column, std::string what, std::string right) {
        findings.push_back({line, std::string{column}, std::move(what), std::move(right)});
    });
    for (auto each = keys.begin(); each != keys.end(); ++each)
        each.value().in_this_file = false;
    return reading.summary;
}

} // namespace tarewell::intake
