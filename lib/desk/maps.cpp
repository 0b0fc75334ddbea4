#include "desk/maps.hpp"

#include "desk/labels.hpp"
#include "intake/map_file.hpp"

#include <algorithm>
#include <array>
#include <cstdio>
#include <map>

namespace tarewell::desk {
namespace {

using intake::mapped_row;

/// "2, 4 to 9": lines in a row as a range.
std::string lines_told(std::vector<std::size_t> lines) {
    std::sort(lines.begin(), lines.end());
    std::string text;
    for (std::size_t i = 0; i < lines.size();) {
        std::size_t end = i;
        while (end + 1 < lines.size() && lines[end + 1] <= lines[end] + 1)
            ++end;
        if (!text.empty()) text += ", ";
        text += std::to_string(lines[i]);
        if (lines[end] != lines[i]) text += (lines[end] == lines[i] + 1 ? ", " : " to ") + std::to_string(lines[end]);
        i = end + 1;
    }
    return text;
}

value record_for_machines(const intake::mapped_record& record) {
    const auto& kind = records::info(record.which);
    value values;
    for (std::size_t i = 0; i < kind.columns.size(); ++i)
        if (!record.values[i].empty()) values[std::string{kind.columns[i].name}] = record.values[i];
    return {{"kind", kind.name}, {"known", record.known}, {"values", values}};
}

/// What a line of a refusal says, taken apart.
struct told_line {
    std::string file, column, what, right;
    std::size_t line = 0;
};

/// None where it is not "FILE:LINE:COLUMN: what; right".
std::optional<told_line> read_line(const std::string& text) {
    const auto colon = text.find(": ");
    const auto right = text.rfind("; ");
    if (colon == std::string::npos || right == std::string::npos || right < colon) return std::nullopt;
    const auto where = text.substr(0, colon);
    const auto second = where.rfind(':');
    const auto first = second == std::string::npos || second == 0 ? std::string::npos : where.rfind(':', second - 1);
    if (first == std::string::npos) return std::nullopt;
    told_line made{where.substr(0, first), where.substr(second + 1), text.substr(colon + 2, right - colon - 2),
                   text.substr(right + 2), 0};
    const auto place = where.substr(first + 1, second - first - 1);
    const auto digits = place.find_first_of("0123456789");
    if (digits == std::string::npos || place.size() - digits > 9) return std::nullopt;
    if (place.find_first_not_of("0123456789", digits) != std::string::npos) return std::nullopt;
    made.line = std::stoul(place.substr(digits));
    return made;
}

/// What is wrong, without the value in quotes that it begins with.
std::string without_value(const std::string& what) {
    const auto end = what.starts_with('\'') ? what.rfind('\'') : std::string::npos;
    return end == std::string::npos || end == 0 ? what : what.substr(end + 1);
}

/// Lines that say the same of several rows.
struct together {
    told_line first;
    std::vector<std::string> texts;
    std::vector<std::size_t> lines;
};

std::vector<together> grouped(const std::vector<std::string>& lines) {
    std::vector<together> groups;
    std::map<std::array<std::string, 4>, std::size_t> places;
    for (const auto& text : lines) {
        const auto read = read_line(text);
        if (!read) {
            groups.push_back({{}, {text}, {}});
            continue;
        }
        const std::array key{read->file, read->column, without_value(read->what), read->right};
        const auto [at, is_new] = places.emplace(key, groups.size());
        if (is_new) groups.push_back({*read, {}, {}});
        groups[at->second].texts.push_back(text);
        groups[at->second].lines.push_back(read->line);
    }
    return groups;
}

/// A date as a spreadsheet program writes it, in numbers: 10/3/2026. Both numbers; none for another text.
std::optional<std::pair<int, int>> turned_round(const std::string& what) {
    int first = 0, second = 0, year = 0, end = 0;
    if (std::sscanf(what.c_str(), "'%2d%*[/.-]%2d%*[/.-]%4d%n", &first, &second, &year, &end) != 3 || first > 31 ||
        second > 31)
        return std::nullopt;
    return std::pair{first, second};
}

/// What a rule of a map is about, in the words of forms.
std::string words_of_rule(const records::record_rule& rule) {
    using about = records::record_rule::about;
    const auto& kind = records::info(rule.which);
    const auto one = one_of(kind);
    const auto column = fmt::format("\"{}\" of {}", label_of(kind, kind.columns[rule.column]), one);
    switch (rule.what) {
    case about::words:
        return "the words for " + column;
    case about::unit:
        return "the unit of " + column;
    case about::by:
        return "by what " + column + " is found";
    case about::when:
        return fmt::format("when {} is made", one);
    case about::repeat:
        return fmt::format("how many times {} is made", one);
    case about::known_by:
        return fmt::format("by what {} is known again", one);
    default:
        return column;
    }
}

bool may_be_in_a_key(char c) {
    return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '.' || c == '_' || c == '-';
}

} // namespace

std::string with_words_of_keys(std::string line) {
    std::string words;
    std::vector<std::string_view> told;
    const std::string_view text{line};
    for (std::size_t from = 0; from < text.size();) {
        auto end = from;
        while (end < text.size() && may_be_in_a_key(text[end]))
            ++end;
        const auto key = text.substr(from, end - from);
        from = std::max(end, from + 1);
        const auto rule = key.find('.') == std::string_view::npos ? std::nullopt : records::read_record_rule(key);
        if (!rule || std::find(told.begin(), told.end(), key) != told.end()) continue;
        told.push_back(key);
        words += fmt::format("{}{}: {}", words.empty() ? "" : ", ", key, words_of_rule(*rule));
    }
    return words.empty() ? line : fmt::format("{} ({})", line, words);
}

std::vector<std::string> with_words_of_keys(std::vector<std::string> lines) {
    for (auto& each : lines)
        each = with_words_of_keys(std::move(each));
    return lines;
}

std::string record_told(const intake::mapped_record& record) {
    const auto& kind = records::info(record.which);
    std::string text = fmt::format("{} {}", kind.name, record.values[kind.key[0]]);
    if (kind.key_columns == 2) text += " " + record.values[kind.key[1]];
    if (record.known) return text + " (known)";
    std::string rest;
    for (std::size_t i = 0; i < kind.columns.size(); ++i)
        if (!record.values[i].empty() && !kind.is_key(i))
            rest += fmt::format("{}{} {}", rest.empty() ? ": " : ", ", kind.columns[i].name, record.values[i]);
    return text + rest;
}

std::vector<std::string> told_together(const std::vector<std::string>& lines) {
    constexpr std::size_t few = 3;
    std::vector<std::string> told;
    for (const auto& each : grouped(lines)) {
        if (each.lines.size() <= few)
            told.insert(told.end(), each.texts.begin(), each.texts.end());
        else
            told.push_back(fmt::format("{}: {} in lines {}: {}: {}; {}", each.first.file,
                                       counted(each.lines.size(), "fault", "faults"), lines_told(each.lines),
                                       each.first.column, each.first.what, each.first.right));
    }
    return told;
}

std::string likely_cause(const std::vector<std::string>& lines) {
    constexpr std::size_t many = 3;
    std::size_t dates = 0;
    bool day_first = false, month_first = false;
    for (const auto& text : lines) {
        const auto read = read_line(text);
        const auto numbers = read ? turned_round(read->what) : std::nullopt;
        if (!numbers || read->what.find("is not written as a date") == std::string::npos) continue;
        ++dates;
        day_first = day_first || numbers->first > 12;
        month_first = month_first || numbers->second > 12;
    }
    if (dates < many) return {};
    const char* order = day_first && month_first
                            ? "they are in more than one order: give the column the format 2026-05-14 and save again"
                        : day_first   ? "the day stands first: dates = \"dmy\""
                        : month_first ? "the month stands first: dates = \"mdy\""
                                      : "whether day or month stands first cannot be seen: look at one that you know";
    return fmt::format(
        "{} dates are as a spreadsheet program turns them round when it opens a CSV file. Mend them there (format "
        "2026-05-14), or let a map say their order once (tarewell intake map NAME --from FILE): {}\n",
        dates, order);
}

answer maps_of(const looked_at& at) {
    std::map<std::string, std::size_t> counts;
    at.file.for_each(records::kind::map_rule, at.head.seq,
                     [&](const ledger::stored_row& stored) { ++counts[std::string{stored.values["map"]}]; });
    table listed{{"map", "rules"}};
    for (const auto& [name, count] : counts)
        listed.add({name, count});
    answer made;
    made.tell(listed);
    if (counts.empty()) made.say("no map yet; make one with: tarewell intake map NAME --from FILE\n");
    return made;
}

answer map_of(const looked_at& at, const std::string& name) {
    intake::map_rules rules;
    at.file.for_each_with(records::kind::map_rule, "map", name, at.head.seq, [&](const ledger::stored_row& stored) {
        rules.emplace(stored.values["rule"], stored.values["value"]);
    });
    answer made;
    made.data = {{"map", name}};
    made.data["rules"] = value::object();
    for (const auto& [rule, text] : rules)
        made.data["rules"][rule] = text;
    if (rules.empty()) static_cast<void>(intake::map_named(at.file, name)); // says what is there
    made.say("{}", intake::map_file_of(rules));
    try {
        static_cast<void>(intake::map_of(name, rules));
    } catch (const records::refused& incomplete) {
        made.say("# not whole yet:\n");
        for (const auto& each : with_words_of_keys(incomplete.lines()))
            made.say("#   {}\n", each);
    }
    return made;
}

answer rules_of_maps() {
    table listed{{"rule", "value", "meaning"}};
    for (const auto& each : records::sheet_rules()) {
        std::string words;
        for (const auto word : each.words)
            words += (words.empty() ? "" : " or ") + std::string{word};
        listed.add({each.name, words.empty() ? "a text" : words, each.meaning});
    }
    listed.add({"KIND.COLUMN", "{Heading}",
                "what the column becomes: headings in braces, texts as they stand, {n} and {row}"});
    listed.add({"KIND.COLUMN", "R###", "of an id: the next number, of at least so many digits"});
    listed.add({"KIND.COLUMN", "{covers.registration}", "what another record of the same row has there"});
    listed.add({"words.KIND.COLUMN", "HT=high tunnel | GH=greenhouse", "their words and ours"});
    listed.add(
        {"unit.KIND.COLUMN", "m", "the unit of numbers that name none: ft, in, yd, m, cm; mil, mm, um; lb, kg, ton"});
    listed.add({"by.KIND.COLUMN", "name | email", "the column names another record by these"});
    listed.add({"known_by.KIND", "email | name town", "a record that has the same there is the same: its id is taken"});
    listed.add({"when.KIND", "{Second tunnel} is yes | Yes", "made only where the heading says so, or says anything"});
    listed.add({"repeat.KIND", "{How many bundles}", "so many are made; {n} counts them"});
    answer made;
    made.tell(listed);
    made.say("KIND is a file's name, such as growers; covers-2 is the second cover of the same row.\n");
    return made;
}

std::string doubts_of(const intake::mapped_sheet& sheet) {
    const bool anything_new = std::any_of(sheet.rows.begin(), sheet.rows.end(), [](const mapped_row& row) {
        return std::any_of(row.made.begin(), row.made.end(), [](const auto& each) { return !each.known; });
    });
    if (!anything_new) return {};
    std::vector<std::pair<std::string, std::vector<std::size_t>>> by_text;
    for (const auto& row : sheet.rows)
        for (const auto& doubt : row.doubts) {
            const auto found =
                std::find_if(by_text.begin(), by_text.end(), [&](const auto& each) { return each.first == doubt; });
            (found == by_text.end() ? by_text.emplace_back(doubt, std::vector<std::size_t>{}) : *found)
                .second.push_back(row.line);
        }
    std::string text;
    for (const auto& [doubt, lines] : by_text)
        text += fmt::format("{} {}: {}\n", lines.size() == 1 ? "row" : "rows", lines_told(lines), doubt);
    return text;
}

answer preview_of(const intake::mapped_intake& taken) {
    constexpr std::size_t in_full = 3;
    answer made;
    made.found = !taken.faults.empty();
    value rows = value::array(), faults = value::array();
    std::size_t plain = 0, shown = 0;
    made.say("{}: {}, of which {} become records\n", taken.sheet.shown,
             counted(taken.sheet.rows.size() + taken.sheet.left_out.size(), "row", "rows"),
             std::count_if(taken.sheet.rows.begin(), taken.sheet.rows.end(),
                           [](const mapped_row& row) { return !row.refused; }));
    for (const auto& row : taken.sheet.rows) {
        value records = value::array(), doubts = value::array();
        for (const auto& each : row.made)
            records.push_back(record_for_machines(each));
        for (const auto& each : row.doubts)
            doubts.push_back(each);
        rows.push_back({{"row", row.line}, {"refused", row.refused}, {"records", records}, {"doubts", doubts}});
        if (row.refused) continue;
        if (row.doubts.empty() && ++plain > in_full) continue;
        ++shown;
        made.say("row {}\n", row.line);
        for (const auto& each : row.made)
            made.say("    {}\n", record_told(each));
        for (const auto& each : row.doubts)
            made.say("    look: {}\n", each);
    }
    if (plain > in_full) made.say("and {} like these\n", counted(plain - in_full, "row", "rows"));
    if (!taken.sheet.left_out.empty())
        made.say("passed over, as the map says: rows {}\n", lines_told(taken.sheet.left_out));
    const auto told = with_words_of_keys(taken.faults);
    for (const auto& each : told)
        faults.push_back(each);
    for (const auto& each : told_together(told))
        made.say("{}\n", each);
    made.say("{}\n", taken.faults.empty() ? "nothing is refused; nothing was changed"
                                          : counted(taken.faults.size(), "fault", "faults") + "; nothing was changed");
    made.data = {{"file", taken.sheet.shown}, {"rows", rows}, {"faults", faults}};
    return made;
}

} // namespace tarewell::desk
