#include "intake/map_file.hpp"
#include "intake/map_sheet.hpp"
#include "intake/sheet_map.hpp"
#include "intake/workbook.hpp"
#include "quantity/clean_text.hpp"
#include "records/errors.hpp"
#include "records/letters.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cstdio>

namespace tarewell::intake {
namespace {

using records::kind;

/// How people head a column, beside its own name: words that all stand in the heading.
struct heading_words {
    std::string_view column;
    std::vector<std::string_view> words;
};
const std::vector<heading_words>& usual_headings() {
    static const std::vector<heading_words> table = {
        {"date", {"timestamp"}},    {"date", {"date"}},          {"date", {"day"}},
        {"name", {"your", "name"}}, {"name", {"grower"}},        {"name", {"full", "name"}},
        {"farm", {"business"}},     {"town", {"city"}},          {"email", {"mail"}},
        {"phone", {"telephone"}},   {"phone", {"tel"}},          {"phone", {"mobile"}},
        {"site", {"drop"}},         {"site", {"where"}},         {"site", {"location"}},
        {"structure", {"kind"}},    {"structure", {"type"}},     {"length_ft", {"long"}},
        {"width_ft", {"wide"}},     {"rise_ft", {"height"}},     {"rise_ft", {"ridge"}},
        {"mil", {"thickness"}},     {"number", {"how", "many"}}, {"ticket", {"slip"}},
        {"subject", {"bale"}},      {"description", {"item"}},   {"payee", {"vendor"}},
        {"payee", {"paid", "to"}},  {"document", {"invoice"}},   {"document", {"receipt"}},
        {"quantity", {"hours"}},    {"giver", {"volunteer"}},    {"category", {"budget", "line"}}};
    return table;
}

std::vector<std::string> words_of(std::string_view text) {
    std::vector<std::string> words(1);
    for (const char c : records::folded(text)) {
        const bool letter = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || static_cast<unsigned char>(c) >= 0x80;
        if (letter)
            words.back() += c;
        else if (!words.back().empty())
            words.emplace_back();
    }
    if (words.back().empty()) words.pop_back();
    return words;
}

bool has(const std::vector<std::string>& words, std::string_view word) {
    return std::find(words.begin(), words.end(), word) != words.end();
}

/// How well a heading fits a column: 0 not at all.
int fit(const std::vector<std::string>& heading, std::string_view column) {
    auto name = words_of(column);
    if (name.size() > 1 && (name.back() == "ft" || name.back() == "lb")) name.pop_back();
    const auto all_in = [&](const auto& words) {
        return std::all_of(words.begin(), words.end(), [&](const auto& each) { return has(heading, each); });
    };
    if (heading == name) return 100;
    if (all_in(name)) return 50;
    int best = 0;
    for (const auto& usual : usual_headings())
        if (usual.column == column && all_in(usual.words))
            best = std::max(best, 10 * static_cast<int>(usual.words.size()));
    return best;
}

/// What of a file can be seen before its headings are.
sheet_rules of_the_text(table_file& file, map_rules& rules) {
    sheet_rules sheet;
    const auto say = [&](const char* rule, const std::string& value) {
        rules[rule] = value;
        sheet.set(rule, value);
    };
    say("blank_rows", "skip");
    if (file.is_workbook()) {
        if (file.book().sheets().size() > 1) say("sheet", file.book().sheets().front().name);
        return sheet;
    }
    const auto& bytes = file.bytes();
    if (bytes.starts_with("\xFF\xFE") || bytes.starts_with("\xFE\xFF"))
        say("encoding", "utf-16");
    else if (quantity::first_bad_byte(bytes) != std::string_view::npos)
        say("encoding", "cp1252");
    const auto text = as_utf8(bytes, sheet["encoding"]);
    const auto line = std::string_view{text}.substr(0, text.find('\n'));
    const auto count = [&](char c) { return std::count(line.begin(), line.end(), c); };
    if (count(';') > count(',')) say("separator", "semicolon");
    if (count('\t') > std::max(count(','), count(';'))) say("separator", "tab");
    return sheet;
}

/// What the values of all cells let one think.
void of_the_values(const map_sheet& sheet, map_rules& rules, std::vector<std::string>& said) {
    bool spaces = false, times = false, short_years = false, dollars = false, first_day = false, second_day = false,
         dates = false;
    bool thousands = false;
    for (const auto& row : sheet.rows)
        for (const auto& cell : row.cells) {
            spaces = spaces || trimmed(cell).size() != cell.size();
            dollars = dollars || trimmed(cell).starts_with('$');
            const auto comma = cell.find(',');
            thousands = thousands ||
                        (comma != std::string::npos && comma > 0 && cell[comma - 1] >= '0' && cell[comma - 1] <= '9' &&
                         comma + 3 < cell.size() && cell.find_first_not_of("0123456789", comma + 1) >= comma + 4);
            int first = 0, second = 0;
            char year[5] = {};
            if (std::sscanf(cell.c_str(), " %2d%*[/.-]%2d%*[/.-]%4[0-9]", &first, &second, year) != 3) continue;
            dates = true;
            short_years = short_years || std::string_view{year}.size() == 2;
            first_day = first_day || first > 12;
            second_day = second_day || second > 12;
            times = times || cell.find(':') != std::string::npos;
        }
    if (spaces) rules["spaces"] = "trim";
    if (dollars) rules["currency"] = "$";
    if (thousands) rules["thousands"] = "comma";
    if (times) rules["times"] = "drop";
    if (short_years) rules["short_years"] = "20";
    if (first_day != second_day) rules["dates"] = first_day ? "dmy" : "mdy";
    if (dates && first_day == second_day)
        said.push_back(
            "dates: whether day or month stands first cannot be seen; write dates = \"dmy\" or dates = \"mdy\"");
}

/// Gives each of a kind's columns the heading that fits it best; what is taken is taken once.
void of_a_kind(const map_sheet& sheet, kind which, std::vector<bool>& taken, map_rules& rules) {
    const auto& told = records::info(which);
    for (int least = 100; least > 0; least -= 5)
        for (const auto& column : told.columns) {
            const auto rule = fmt::format("{}.{}", told.file, column.name);
            if (rules.contains(rule)) continue;
            for (std::size_t i = 0; i < sheet.headings.size(); ++i) {
                if (taken[i] || fit(words_of(sheet.headings[i]), column.name) < least) continue;
                rules[rule] = "{" + sheet.headings[i] + "}";
                if (column.names && (column.names == kind::site || column.names == kind::grower))
                    rules["by." + rule] = "name";
                taken[i] = true;
                break;
            }
        }
}

/// A row of a form: a grower, the registration's cover and its bundles.
void of_a_form(const map_sheet& sheet, std::vector<bool>& taken, map_rules& rules) {
    of_a_kind(sheet, kind::grower, taken, rules);
    rules.erase("growers.grower");
    of_a_kind(sheet, kind::cover, taken, rules);
    for (std::size_t i = 0; i < sheet.headings.size(); ++i)
        if (!taken[i] && has(words_of(sheet.headings[i]), "bundles")) {
            rules["repeat.bundles"] = rules["bundles.of"] = "{" + sheet.headings[i] + "}";
            taken[i] = true;
            break;
        }
    rules["growers.grower"] = "G###";
    rules["known_by.growers"] = rules.contains("growers.email") ? "email | name" : "name";
    rules["covers.registration"] = "R###";
    rules["covers.grower"] = "{growers.grower}";
    rules.erase("by.covers.grower");
    rules["covers.cover"] = "1";
    rules["known_by.covers"] = "date grower length_ft width_ft";
    rules["bundles.bundle"] = "{covers.registration}-{n}";
    rules["bundles.registration"] = "{covers.registration}";
    rules["bundles.number"] = "{n}";
}

} // namespace

proposed_map propose_map(table_file& file, std::optional<kind> of) {
    proposed_map made;
    try {
        const auto rules = of_the_text(file, made.rules);
        const auto sheet = read_map_sheet(file, rules);
        of_the_values(sheet, made.rules, made.said);
        std::vector<bool> taken(sheet.headings.size());
        if (of)
            of_a_kind(sheet, *of, taken, made.rules);
        else
            of_a_form(sheet, taken, made.rules);
        std::vector<std::string> left;
        for (std::size_t i = 0; i < taken.size(); ++i)
            if (!taken[i]) left.push_back(sheet.headings[i]);
        if (!left.empty())
            made.said.push_back(
                fmt::format("not used: {0}; to leave them out: ignore = \"{0}\"", fmt::join(left, " | ")));
        try {
            static_cast<void>(map_of("this", made.rules));
        } catch (const records::refused& incomplete) {
            made.said.insert(made.said.end(), incomplete.lines().begin(), incomplete.lines().end());
        }
    } catch (const unreadable& wrong) {
        throw records::refused({fmt::format("{}: {}; {}", file.path(), wrong.what(), wrong.right)});
    }
    return made;
}

} // namespace tarewell::intake
