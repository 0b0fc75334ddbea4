#include "intake/mapped.hpp"

#include "intake/map_bundles.hpp"
#include "intake/map_names.hpp"
#include "intake/standing.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <charconv>
#include <map>
#include <set>

namespace tarewell::intake {
namespace {

using records::column_type;
constexpr int most_repeats = 999;

bool is_number(column_type type) {
    switch (type) {
    case column_type::positive:
    case column_type::nonnegative:
    case column_type::amount:
    case column_type::credit:
    case column_type::count:
    case column_type::month:
        return true;
    default:
        return false;
    }
}

/// One row's way through the map.
class row_mapper {
  public:
    row_mapper(const sheet_map& map, const map_sheet& sheet, const ledger::ledger_file& to, map_names& names,
               std::vector<records::finding>& findings)
        : map_{map}, sheet_{sheet}, to_{to}, names_{names}, findings_{findings} {}

    mapped_row of(const map_sheet::row& row) {
        row_ = &row;
        made_ = {row.line, {}, {}, false};
        by_record_.assign(map_.records.size(), std::nullopt);
        planned_.clear();
        for (std::size_t place = 0; place < map_.records.size(); ++place) {
            const auto& record = map_.records[place];
            if (!wanted(record)) continue;
            const int count = count_of(record);
            for (repeat_ = 1; repeat_ <= count && !made_.refused; ++repeat_)
                make(record, place);
        }
        look_at_repeats();
        return std::move(made_);
    }

  private:
    void refuse(std::string column, std::string what, std::string right) {
        findings_.push_back({row_->line, std::move(column), std::move(what), std::move(right)});
        made_.refused = true;
    }

    /// A piece as text; `empty_heading` hears of a heading that says nothing in this row.
    std::string text_of(const map_piece& piece, bool& empty_heading) {
        switch (piece.what) {
        case map_piece::is::heading: {
            const auto at = sheet_.heading(piece.text);
            if (!at) return {};
            if (const auto planned = planned_.find(piece.text); planned != planned_.end()) return planned->second;
            const auto& cell = row_->cells[*at];
            const auto text = std::string{map_.sheet.says("spaces", "trim") ? trimmed(cell) : std::string_view{cell}};
            empty_heading = empty_heading || trimmed(text).empty();
            return text;
        }
        case map_piece::is::repeat:
            return std::to_string(repeat_);
        case map_piece::is::row:
            return std::to_string(row_->line);
        case map_piece::is::record:
            return by_record_[piece.record] ? (*by_record_[piece.record])[piece.column] : std::string{};
        default:
            return piece.text;
        }
    }
    std::string text_of(const std::vector<map_piece>& pieces) {
        std::string text;
        bool empty = false;
        bool some = false;
        for (const auto& each : pieces) {
            bool this_empty = false;
            text += text_of(each, this_empty);
            empty = empty || this_empty;
            some = some || (each.what == map_piece::is::heading && !this_empty);
        }
        return empty && !some ? std::string{} : text; // headings that say nothing leave nothing of what stands between
    }

    bool wanted(const map_record& record) {
        if (record.when.empty()) return true;
        const auto said = same_words(text_of(record.when));
        if (record.when_is.empty()) return !said.empty();
        return std::any_of(record.when_is.begin(), record.when_is.end(),
                           [&](const std::string& each) { return same_words(each) == said; });
    }
    int count_of(const map_record& record) {
        if (record.repeat.empty()) return 1;
        const auto text = text_of(record.repeat);
        int count = 0;
        const auto [end, failure] = std::from_chars(text.data(), text.data() + text.size(), count);
        if (failure == std::errc{} && end == text.data() + text.size() && count >= 1 && count <= most_repeats)
            return count;
        if (const auto planned = count_by_sizes(record, text)) return *planned;
        refuse(std::string{records::info(record.which).file},
               text.empty() ? "nothing says how many to make" : fmt::format("'{}' does not say how many to make", text),
               fmt::format("write a whole number from 1 to {}{}", most_repeats,
                           record.which == records::kind::bundle ? ", or the covers' sizes, by which they are planned"
                                                                 : ""));
        return 0;
    }

    /// Who brings film may not know in how many bundles: as many are made as the covers' sizes plan, and it is asked
    /// about. What the heading says is that number then, wherever the map uses it.
    std::optional<int> count_by_sizes(const map_record& record, const std::string& said) {
        if (record.which != records::kind::bundle || said.find_first_of("0123456789") != std::string::npos)
            return std::nullopt;
        const auto planned = bundles_planned(to_, made_.made);
        if (!planned || *planned > most_repeats) return std::nullopt;
        for (const auto& piece : record.repeat)
            if (piece.what == map_piece::is::heading) planned_[piece.text] = std::to_string(*planned);
        made_.doubts.push_back(fmt::format("{}: {} bundles are made, as the covers' sizes plan; ask how many there are",
                                           said.empty() ? "nothing says how many bundles"
                                                        : fmt::format("'{}' is no number of bundles", said),
                                           *planned));
        return static_cast<int>(*planned);
    }

    /// A column's value, its texts read as the map tells.
    read_value value_of(const map_record& record, const map_column& column) {
        auto text = text_of(column.pieces);
        if (text.empty()) return {};
        const auto& told = records::info(record.which).columns[column.column];
        if (!column.words.empty()) {
            auto word = read_word(text, column.words);
            if (!word.good() || !is_number(told.type)) return word;
            text = word.value;
        }
        if (!column.by.empty()) return names_.id_of(*told.names, column.by, text);
        if (!column.reads_a_heading()) return {text};
        if (told.type == column_type::date) return read_date(text, map_.sheet);
        if (is_number(told.type)) return read_number(text, map_.sheet, column.unit, records::unit_of_column(told.name));
        return {text};
    }
    static bool numbers(const map_column& column) {
        return std::any_of(column.pieces.begin(), column.pieces.end(),
                           [](const auto& each) { return each.what == map_piece::is::number; });
    }
    /// The next id of a pattern such as R###.
    std::string numbered(const map_record& record, const map_column& column) {
        std::string before, after;
        std::size_t digits = 0;
        for (const auto& each : column.pieces) {
            bool empty = false;
            if (each.what == map_piece::is::number)
                digits = each.text.size();
            else
                (digits == 0 ? before : after) += text_of(each, empty);
        }
        return names_.next(record.which, column.column, before, after, digits);
    }

    [[nodiscard]] std::string name_of(const map_record& record, const map_column& column) const {
        const auto& kind = records::info(record.which);
        const auto source = column.source();
        return fmt::format("{}.{}{}", kind.file, kind.columns[column.column].name,
                           source.empty() ? source : " (" + source + ")");
    }

    /// A rule to set, of this column.
    static std::string with_its_key(const map_record& record, const map_column& column, std::string right) {
        constexpr std::string_view any = "KIND.COLUMN";
        const auto& kind = records::info(record.which);
        if (const auto at = right.find(any); at != std::string::npos)
            right.replace(at, any.size(),
                          fmt::format("{}{}.{}", kind.file, record.number == 1 ? "" : fmt::format("-{}", record.number),
                                      kind.columns[column.column].name));
        return right;
    }

    void make(const map_record& record, std::size_t place) {
        const auto& kind = records::info(record.which);
        mapped_record made{record.which, place, std::vector<std::string>(kind.columns.size()), false};
        for (const auto& column : record.columns) {
            if (numbers(column)) continue;
            auto read = value_of(record, column);
            if (!read.good())
                refuse(name_of(record, column), std::move(read.what),
                       with_its_key(record, column, std::move(read.right)));
            if (!read.doubt.empty()) made_.doubts.push_back(fmt::format("{}: {}", name_of(record, column), read.doubt));
            made.values[column.column] = std::move(read.value);
        }
        if (made_.refused) return;
        recognise(record, made);
        for (const auto& column : record.columns)
            if (made.values[column.column].empty() && numbers(column))
                made.values[column.column] = numbered(record, column);
        if (!made.known) names_.add(record.which, made.values);
        by_record_[place] = made.values;
        made_.made.push_back(std::move(made));
    }
    /// The same record that is there already gives its ids; what it says otherwise is a doubt.
    void recognise(const map_record& record, mapped_record& made) {
        const auto& kind = records::info(record.which);
        for (const auto& columns : record.known_by) {
            const auto* found = names_.known(record.which, columns, made.values);
            if (found == nullptr) continue;
            made.known = true;
            for (std::size_t i = 0; i < kind.columns.size(); ++i) {
                const auto& now = made.values[i];
                const auto& then = (*found)[i];
                if (!now.empty() && !same(kind, i, now, then))
                    made_.doubts.push_back(
                        fmt::format("{} {} is known; its {} is {} there and '{}' here, which is not taken",
                                    kind.called(), (*found)[kind.key[0]], kind.columns[i].name,
                                    then.empty() ? "not given" : "'" + then + "'", now));
            }
            made.values = *found;
            return;
        }
        const std::vector<std::size_t> key{kind.key.begin(),
                                           kind.key.begin() + static_cast<std::ptrdiff_t>(kind.key_columns)};
        const auto* found = names_.known(record.which, key, made.values);
        if (found == nullptr) return;
        made.known = true; // other values under its key are for the rules to refuse
        for (std::size_t i = 0; i < kind.columns.size(); ++i)
            made.known = made.known &&
                         (made.values[i] == (*found)[i] || same_value(kind.columns[i], made.values[i], (*found)[i]));
    }
    static bool same(const records::kind_info& kind, std::size_t column, const std::string& now,
                     const std::string& then) {
        return same_value(kind.columns[column], now, then) || same_words(now) == same_words(then);
    }
    void look_at_repeats() {
        const bool all_known = !made_.made.empty() && std::all_of(made_.made.begin(), made_.made.end(),
                                                                  [](const mapped_record& each) { return each.known; });
        if (all_known && !made_.refused)
            made_.doubts.emplace_back("all of this row is known: sent twice, or imported before");
    }

    const sheet_map& map_;
    const map_sheet& sheet_;
    const ledger::ledger_file& to_;
    map_names& names_;
    std::vector<records::finding>& findings_;
    const map_sheet::row* row_ = nullptr;
    mapped_row made_;
    std::vector<std::optional<std::vector<std::string>>> by_record_; ///< what each of the map's records is in this row
    std::map<std::string, std::string> planned_;                     ///< headings that say a count, where it is planned
    int repeat_ = 1;
};

/// Headings that the map names and the sheet has not, and those that the map does not speak of.
void check_headings(const sheet_map& map, const map_sheet& sheet, std::vector<records::finding>& findings) {
    std::set<std::size_t> spoken_of;
    std::set<std::string> missing;
    const auto look_at = [&](const std::vector<map_piece>& pieces) {
        for (const auto& each : pieces) {
            if (each.what != map_piece::is::heading) continue;
            if (const auto at = sheet.heading(each.text))
                spoken_of.insert(*at);
            else
                missing.insert(each.text);
        }
    };
    for (const auto& record : map.records) {
        look_at(record.when);
        look_at(record.repeat);
        for (const auto& column : record.columns)
            look_at(column.pieces);
    }
    for (const auto& each : records::listed(map.sheet["ignore"]))
        if (const auto at = sheet.heading(each)) spoken_of.insert(*at);
    for (const auto& each : missing)
        findings.push_back({1, each, "the map names this heading, and the sheet has none such",
                            fmt::format("its headings are: {}", fmt::join(sheet.headings, " | "))});
    std::vector<std::string> unknown = records::listed(map.sheet["ignore"]);
    const auto ignored = unknown.size();
    for (std::size_t i = 0; i < sheet.headings.size(); ++i)
        if (!spoken_of.contains(i)) unknown.push_back(sheet.headings[i].empty() ? "(no heading)" : sheet.headings[i]);
    for (std::size_t i = ignored; i < unknown.size(); ++i)
        findings.push_back(
            {1, unknown[i], "the map does not say what this heading is",
             fmt::format("use it in a rule, or leave it out: --set 'ignore={}'", fmt::join(unknown, " | "))});
}

} // namespace

mapped_sheet apply_map(const sheet_map& map, const map_sheet& sheet, const ledger::ledger_file& to) {
    mapped_sheet made{sheet.shown, {}, sheet.left_out, sheet.findings, sheet.notes};
    check_headings(map, sheet, made.findings);
    map_names names{to};
    row_mapper mapper{map, sheet, to, names, made.findings};
    for (const auto& row : sheet.rows)
        made.rows.push_back(mapper.of(row));
    std::stable_sort(made.findings.begin(), made.findings.end(),
                     [](const auto& a, const auto& b) { return a.line < b.line; });
    return made;
}

} // namespace tarewell::intake
