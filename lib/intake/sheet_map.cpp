#include "intake/sheet_map.hpp"

#include "records/errors.hpp"
#include "records/nearest_name.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

namespace tarewell::intake {
namespace {

using records::record_rule;
using about = record_rule::about;

/// Puts a map together from its rules.
class map_maker {
  public:
    map_maker(std::string name, const std::map<std::string, std::string>& rules) : rules_{rules} {
        made_.name = std::move(name);
    }
    sheet_map make() {
        for (const auto& [rule, value] : rules_) {
            const auto read = records::read_record_rule(rule);
            if (!read) {
                made_.sheet.set(rule, value);
                continue;
            }
            auto& record = record_of(*read);
            if (read->what == about::value) column_of(record, read->column);
        }
        if (made_.records.empty())
            wrong(made_.name, "the map says nothing of what a row becomes", "set such as: growers.name={Your name}");
        std::stable_sort(made_.records.begin(), made_.records.end(), [](const auto& a, const auto& b) {
            return std::pair{a.which, a.number} < std::pair{b.which, b.number};
        });
        for (const auto& [rule, value] : rules_)
            if (const auto read = records::read_record_rule(rule)) apply(rule, *read, value);
        check();
        if (!faults_.empty()) throw records::refused(std::move(faults_));
        return std::move(made_);
    }

  private:
    void wrong(const std::string& rule, const std::string& what, const std::string& right) {
        faults_.push_back(fmt::format("map {}: {}: {}; {}", made_.name, rule, what, right));
    }
    static std::string let_it_say(std::string_view record, std::string_view column) {
        return fmt::format("let the map say it: --set '{}.{}={{Their heading}}'", record, column);
    }
    map_record& record_of(const record_rule& rule) {
        for (auto& each : made_.records)
            if (each.which == rule.which && each.number == rule.number) return each;
        auto& made = made_.records.emplace_back();
        made.which = rule.which;
        made.number = rule.number;
        return made;
    }
    static map_column& column_of(map_record& record, std::size_t column) {
        for (auto& each : record.columns)
            if (each.column == column) return each;
        return record.columns.emplace_back(map_column{column, {}, {}, {}, {}});
    }
    [[nodiscard]] std::size_t place_of(const record_rule& rule) const {
        for (std::size_t i = 0; i < made_.records.size(); ++i)
            if (made_.records[i].which == rule.which && made_.records[i].number == rule.number) return i;
        return made_.records.size();
    }

    map_piece in_braces(const std::string& rule, const std::string& text) {
        if (text == "n") return {map_piece::is::repeat, text};
        if (text == "row") return {map_piece::is::row, text};
        const auto named = records::read_record_rule(text);
        if (!named || named->what != about::value) return {map_piece::is::heading, text};
        const auto place = place_of(*named);
        if (place == made_.records.size())
            wrong(rule, fmt::format("{{{}}} is of a record that the map does not make", text),
                  "name one of its records");
        return {map_piece::is::record, text, place, named->column};
    }
    /// "Lot ##" as text and a number's digits.
    static void add_text(std::vector<map_piece>& to, std::string_view text, bool may_count) {
        const auto hash = may_count ? text.find("##") : std::string_view::npos;
        if (hash == std::string_view::npos) {
            if (!text.empty()) to.push_back({map_piece::is::text, std::string{text}});
            return;
        }
        const auto end = std::min(text.find_first_not_of('#', hash), text.size());
        if (hash > 0) to.push_back({map_piece::is::text, std::string{text.substr(0, hash)}});
        to.push_back({map_piece::is::number, std::string{text.substr(hash, end - hash)}});
        add_text(to, text.substr(end), false);
    }
    std::vector<map_piece> pieces_of(const std::string& rule, std::string_view value, bool may_count) {
        std::vector<map_piece> pieces;
        while (!value.empty()) {
            const auto open = std::min(value.find('{'), value.size());
            add_text(pieces, value.substr(0, open), may_count);
            value.remove_prefix(open);
            if (value.empty()) break;
            const auto close = value.find('}');
            if (close == std::string_view::npos) {
                wrong(rule, "a brace is not closed", "write a heading as {Your name}");
                break;
            }
            pieces.push_back(in_braces(rule, std::string{trimmed(value.substr(1, close - 1))}));
            value.remove_prefix(close + 1);
        }
        return pieces;
    }
    void apply_when(map_record& record, const std::string& rule, const std::string& value) {
        const auto is = value.find("} is ");
        record.when = pieces_of(rule, std::string_view{value}.substr(0, is == std::string::npos ? is : is + 1), false);
        if (is != std::string::npos)
            for (const auto& each : records::listed(std::string_view{value}.substr(is + 5)))
                record.when_is.push_back(each);
    }
    void apply(const std::string& rule, const record_rule& read, const std::string& value) {
        const auto& kind = records::info(read.which);
        auto& record = made_.records[place_of(read)];
        if (read.what == about::when) return apply_when(record, rule, value);
        if (read.what == about::repeat) {
            record.repeat = pieces_of(rule, value, false);
            return;
        }
        if (read.what == about::known_by) {
            for (const auto& way : records::listed(value)) {
                auto& columns = record.known_by.emplace_back();
                for (const auto& name : records::listed(way, ' '))
                    columns.push_back(kind.index_of(name));
            }
            return;
        }
        const auto column = std::find_if(record.columns.begin(), record.columns.end(),
                                         [&](const map_column& each) { return each.column == read.column; });
        if (column == record.columns.end())
            return wrong(rule, fmt::format("nothing says what {} becomes", kind.columns[read.column].name),
                         let_it_say(kind.file, kind.columns[read.column].name));
        if (read.what == about::value) column->pieces = pieces_of(rule, value, kind.is_key(read.column));
        if (read.what == about::words) column->words = value;
        if (read.what == about::unit) column->unit = value;
        if (read.what == about::by)
            for (const auto& name : records::listed(value))
                column->by.push_back(records::info(*kind.columns[read.column].names).index_of(name));
    }
    void check() {
        for (std::size_t i = 0; i < made_.records.size(); ++i) {
            const auto& record = made_.records[i];
            const auto& kind = records::info(record.which);
            const auto name =
                record.number == 1 ? std::string{kind.file} : fmt::format("{}-{}", kind.file, record.number);
            for (std::size_t c = 0; c < kind.columns.size(); ++c)
                if (kind.columns[c].required && record.find(c) == nullptr)
                    wrong(name, fmt::format("nothing says what {} becomes", kind.columns[c].name),
                          let_it_say(name, kind.columns[c].name));
            for (const auto& column : record.columns)
                for (const auto& piece : column.pieces) {
                    if (piece.what == map_piece::is::record && piece.record >= i)
                        wrong(fmt::format("{}.{}", name, kind.columns[column.column].name),
                              fmt::format("{{{}}} is of a record that is made later", piece.text),
                              "records are made in the order in which a season's files are taken in");
                    if (piece.what == map_piece::is::number && record.known_by.empty())
                        wrong(fmt::format("{}.{}", name, kind.columns[column.column].name),
                              "numbers its records, and nothing says by what one is known again: the same row twice "
                              "would make two",
                              fmt::format("set such as known_by.{}={}", name, kind.columns[1].name));
                }
        }
    }

    const std::map<std::string, std::string>& rules_;
    sheet_map made_;
    std::vector<std::string> faults_;
};

std::map<std::string, std::string> rules_of(const ledger::ledger_file& file, const std::string& name) {
    std::map<std::string, std::string> rules;
    file.for_each_with(records::kind::map_rule, "map", name, file.head().seq, [&](const ledger::stored_row& stored) {
        rules.emplace(stored.values["rule"], stored.values["value"]);
    });
    return rules;
}

} // namespace

bool map_column::reads_a_heading() const {
    return std::any_of(pieces.begin(), pieces.end(),
                       [](const auto& each) { return each.what == map_piece::is::heading; });
}

std::string map_column::source() const {
    std::string text;
    for (const auto& each : pieces)
        if (each.what == map_piece::is::heading) text += (text.empty() ? "from " : ", ") + each.text;
    return text;
}

const map_column* map_record::find(std::size_t column) const {
    for (const auto& each : columns)
        if (each.column == column) return &each;
    return nullptr;
}

std::vector<std::string> names_of_maps(const ledger::ledger_file& file) {
    std::set<std::string> names;
    file.for_each(records::kind::map_rule, file.head().seq,
                  [&](const ledger::stored_row& stored) { names.emplace(stored.values["map"]); });
    return {names.begin(), names.end()};
}

sheet_map map_named(const ledger::ledger_file& file, const std::string& name) {
    const auto rules = rules_of(file, name);
    if (rules.empty())
        throw records::input_error(
            fmt::format("the ledger has no map '{}'{}; make one with: tarewell intake map {} --from FILE", name,
                        records::did_you_mean(name, names_of_maps(file)), name));
    return map_of(name, rules);
}

sheet_map map_of(const std::string& name, const std::map<std::string, std::string>& rules) {
    return map_maker{name, rules}.make();
}

} // namespace tarewell::intake
