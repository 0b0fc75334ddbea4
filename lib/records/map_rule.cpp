#include "records/map_rule.hpp"

#include "records/fields.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <charconv>

namespace tarewell::records {
namespace {

using a = fields_of<map_rule>;
constexpr field<map_rule> fields[] = {
    a::id<&map_rule::map>("map").required(),
    a::id<&map_rule::rule>("rule").required(),
    a::text<&map_rule::value>("value").required(),
};

constexpr std::string_view separator_words[] = {"comma", "semicolon", "tab"};
constexpr std::string_view encoding_words[] = {"utf-8", "cp1252", "utf-16"};
constexpr std::string_view decimal_words[] = {"point", "comma"};
constexpr std::string_view thousands_words[] = {"comma", "point", "space"};
constexpr std::string_view date_words[] = {"ymd", "dmy", "mdy"};
constexpr std::string_view years_words[] = {"20"};
constexpr std::string_view times_words[] = {"drop"};
constexpr std::string_view spaces_words[] = {"trim"};
constexpr std::string_view negatives_words[] = {"parentheses"};
constexpr std::string_view blank_words[] = {"skip"};

constexpr sheet_rule rules[] = {
    {"separator", separator_words, "what sets the columns of a text file apart (comma)"},
    {"encoding", encoding_words, "how a text file writes letters (utf-8)"},
    {"sheet", {}, "the workbook's sheet (the only one)"},
    {"header_row", {}, "the row with the headings (1); rows above it are passed over"},
    {"dates", date_words, "the order of day, month and year (2026-05-14 alone)"},
    {"short_years", years_words, "26 is 2026 (refused)"},
    {"times", times_words, "a time of day after a date is left out (refused)"},
    {"decimal", decimal_words, "before the decimals (point)"},
    {"thousands", thousands_words, "between groups of three digits (refused)"},
    {"currency", {}, "the sign or word beside amounts, such as $ (refused)"},
    {"negatives", negatives_words, "(40.00) is -40.00 (refused)"},
    {"spaces", spaces_words, "spaces around a value are left out (they are data)"},
    {"blank_rows", blank_words, "empty rows between others are passed over (refused)"},
    {"totals", {}, "rows whose first value begins so are passed over, such as Total (refused)"},
    {"ignore", {}, "headings that are not wanted: Timestamp | Comments (refused)"},
};

constexpr unit_ratio ratios[] = {
    {"ft", "ft", 1, 1},
    {"in", "ft", 1, 12},
    {"yd", "ft", 3, 1},
    {"m", "ft", 10'000, 3'048},
    {"cm", "ft", 100, 3'048},
    {"mil", "mil", 1, 1},
    {"in", "mil", 1'000, 1},
    {"mm", "mil", 10'000, 254},
    {"um", "mil", 10, 254},
    {"lb", "lb", 1, 1},
    {"kg", "lb", 100'000'000, 45'359'237},
    {"ton", "lb", 2'000, 1},
    {"kg", "kg", 1, 1},
    {"lb", "kg", 45'359'237, 100'000'000},
};

using about = record_rule::about;
constexpr std::pair<std::string_view, about> of_a_column[] = {
    {"words", about::words}, {"unit", about::unit}, {"by", about::by}};
constexpr std::pair<std::string_view, about> of_a_record[] = {
    {"when", about::when}, {"repeat", about::repeat}, {"known_by", about::known_by}};

template <class Names> std::optional<about> about_called(const Names& names, std::string_view text) {
    for (const auto& [name, what] : names)
        if (name == text) return what;
    return std::nullopt;
}

/// "covers-2" as kind and number.
bool read_kind(std::string_view text, record_rule& into) {
    const auto mark = text.find('-');
    if (mark != std::string_view::npos) {
        const auto digits = text.substr(mark + 1);
        const auto [end, failure] = std::from_chars(digits.data(), digits.data() + digits.size(), into.number);
        if (failure != std::errc{} || end != digits.data() + digits.size() || into.number < 1 || into.number > 99)
            return false;
    }
    const auto* kind = find_kind(text.substr(0, mark));
    if (kind == nullptr || kind->internal || kind->which == kind::map_rule) return false;
    into.which = kind->which;
    return true;
}

std::string wrong_columns(const record_rule& rule, const std::string& value) {
    for (const auto& way : listed(value))
        for (const auto& name : listed(way, ' '))
            if (!info(rule.which).find(name))
                return fmt::format("{} is no column of {}", quoted(name), info(rule.which).file);
    return {};
}

/// Empty when the value is one that the rule may have.
std::string problem_with(const record_rule& rule, const std::string& value) {
    const auto& column = info(rule.which).columns[rule.column];
    switch (rule.what) {
    case about::words:
        for (const auto& pair : listed(value))
            if (pair.find('=') == std::string::npos)
                return fmt::format("{} is not written as theirs=ours", quoted(pair));
        return {};
    case about::unit: {
        const auto to = unit_of_column(column.name);
        if (to.empty() && info(rule.which).find("unit") && (value == "lb" || value == "kg")) return {};
        if (to.empty()) return fmt::format("{} is counted in no unit of length, thickness or weight", column.name);
        const bool known = std::any_of(std::begin(ratios), std::end(ratios),
                                       [&](const unit_ratio& each) { return each.to == to && each.from == value; });
        return known ? std::string{} : fmt::format("{} does not become {}", quoted(value), to);
    }
    case about::by:
        if (!column.names) return fmt::format("{} names no other record", column.name);
        for (const auto& name : listed(value))
            if (!info(*column.names).find(name))
                return fmt::format("{} is no column of {}", quoted(name), info(*column.names).file);
        return {};
    case about::known_by:
        return wrong_columns(rule, value);
    default:
        return {};
    }
}

const char* example_of(about what) {
    switch (what) {
    case about::words:
        return "write such as HT=high tunnel | GH=greenhouse";
    case about::unit:
        return "name a unit such as m, in, ft, kg or lb";
    case about::by:
        return "name the other record's column, such as name or name | email";
    default:
        return "name columns, such as: email | name town";
    }
}

} // namespace

constinit const kind_info map_rule_kind = kind_made<map_rule, fields, no_numbers<map_rule>>(
    {kind::map_rule, "map", "maps", "map", "rule", {}, belongs::to_nothing});
constinit const coded_kind map_rule_coded = coded_made<map_rule, fields, no_numbers<map_rule>>(kind::map_rule);

std::span<const sheet_rule> sheet_rules() { return rules; }
std::span<const unit_ratio> unit_ratios() { return ratios; }

std::string_view unit_of_column(std::string_view column) {
    for (const std::string_view unit : {"ft", "lb"})
        if (column.size() > 3 && column.ends_with(unit) && column[column.size() - 3] == '_') return unit;
    return column == "mil" ? "mil" : std::string_view{};
}

std::vector<std::string> listed(std::string_view text, char between) {
    std::vector<std::string> parts;
    while (true) {
        const auto end = text.find(between);
        auto part = text.substr(0, end);
        while (part.starts_with(' '))
            part.remove_prefix(1);
        while (part.ends_with(' '))
            part.remove_suffix(1);
        if (!part.empty()) parts.emplace_back(part);
        if (end == std::string_view::npos) return parts;
        text.remove_prefix(end + 1);
    }
}

std::optional<record_rule> read_record_rule(std::string_view rule) {
    record_rule made;
    const auto dot = std::min(rule.find('.'), rule.size());
    const auto first = rule.substr(0, dot), rest = rule.substr(std::min(dot + 1, rule.size()));
    if (const auto what = about_called(of_a_record, first)) {
        made.what = *what;
        return read_kind(rest, made) ? std::optional{made} : std::nullopt;
    }
    auto column = rule;
    if (const auto what = about_called(of_a_column, first)) {
        made.what = *what;
        column = rest;
    }
    const auto end = column.find('.');
    if (end == std::string_view::npos || !read_kind(column.substr(0, end), made)) return std::nullopt;
    const auto place = info(made.which).find(column.substr(end + 1));
    if (!place) return std::nullopt;
    made.column = *place;
    return made;
}

void check(const map_rule& made, const season& /*before*/, complaints& say) {
    for (const auto& each : rules) {
        if (each.name != made.rule) continue;
        if (!each.words.empty() && std::find(each.words.begin(), each.words.end(), made.value) == each.words.end())
            say.say("value", fmt::format("{} is no value of {}", quoted(made.value), made.rule),
                    fmt::format("write one of: {}", fmt::join(each.words, ", ")));
        else if (made.rule == "header_row" &&
                 (made.value.size() > 6 || made.value.find_first_not_of("0123456789") != std::string::npos ||
                  made.value.front() == '0'))
            say.say("value", fmt::format("{} is no row", quoted(made.value)), "write a whole number from 1");
        return;
    }
    const auto rule = read_record_rule(made.rule);
    if (!rule) {
        say.say("rule", fmt::format("no rule of a map is called {}", quoted(made.rule)),
                "see: tarewell intake map --rules");
    } else if (auto problem = problem_with(*rule, made.value); !problem.empty()) {
        say.say("value", std::move(problem), example_of(rule->what));
    }
}

void admit(map_rule&& made, season& to) { to.map_rules.push_back(std::move(made)); }

} // namespace tarewell::records
