#include "intake/map_values.hpp"

#include "quantity/day.hpp"
#include "quantity/decimal.hpp"
#include "records/kinds.hpp"
#include "records/letters.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

namespace tarewell::intake {
namespace {

constexpr std::string_view no_break_space = "\xC2\xA0";
constexpr std::array<std::string_view, 12> month_names = {"january",   "february", "march",    "april",
                                                          "may",       "june",     "july",     "august",
                                                          "september", "october",  "november", "december"};

read_value wrong(std::string what, std::string right) { return {{}, std::move(what), std::move(right)}; }

std::string shown(std::string_view text) { return "'" + std::string{text.substr(0, 60)} + "'"; }

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool all_digits(std::string_view text) { return !text.empty() && std::all_of(text.begin(), text.end(), is_digit); }

/// "14", "5" and "2026", or words, between the marks of a date.
std::vector<std::string> parts_of_date(std::string_view text) {
    std::vector<std::string> parts(1);
    for (const char c : text) {
        if (c == '/' || c == '-' || c == '.' || c == ' ' || c == ',') {
            if (!parts.back().empty()) parts.emplace_back();
        } else {
            parts.back() += c;
        }
    }
    if (parts.back().empty()) parts.pop_back();
    return parts;
}

/// "may", "May" or "Sept" as 5 or 9.
std::string month_number(const std::string& word) {
    const auto small = records::small_letters(word);
    for (std::size_t i = 0; i < month_names.size(); ++i)
        if (small.size() >= 3 && month_names[i].starts_with(small)) return std::to_string(i + 1);
    return word;
}

/// The text without the time of day that follows its date; `had_time` says whether one did.
std::string_view without_time(std::string_view text, bool& had_time) {
    const auto colon = text.find(':');
    had_time = colon != std::string_view::npos;
    if (!had_time) return text;
    auto end = colon;
    while (end > 0 && is_digit(text[end - 1]))
        --end;
    return trimmed(text.substr(0, end > 0 && text[end - 1] == 'T' ? end - 1 : end));
}

std::string two_digits(const std::string& text) { return text.size() == 1 ? "0" + text : text; }

/// A number's digits with a point before its decimals; empty where the marks do not fit.
std::string plain_digits(std::string_view text, const sheet_rules& sheet) {
    const char point = sheet.says("decimal", "comma") ? ',' : '.';
    const auto& thousands = sheet["thousands"];
    const char group = thousands == "comma" ? ',' : thousands == "point" ? '.' : thousands == "space" ? ' ' : '\0';
    const auto end = std::min(text.rfind(point), text.size());
    const auto whole = text.substr(0, end), decimals = text.substr(std::min(end + 1, text.size()));
    std::string digits;
    std::size_t in_group = 0;
    bool grouped = false;
    for (const char c : whole) {
        if (c == group && group != '\0') {
            if (grouped ? in_group != 3 : in_group == 0 || in_group > 3) return {};
            grouped = true;
            in_group = 0;
            continue;
        }
        if (!is_digit(c)) return {};
        digits += c;
        ++in_group;
    }
    if (digits.empty() || (grouped && in_group != 3)) return {};
    if (end == text.size()) return digits;
    return all_digits(decimals) ? digits + "." + std::string{decimals} : std::string{};
}

std::string why_no_number(std::string_view text, const sheet_rules& sheet) {
    const bool comma = text.find(',') != std::string_view::npos;
    if (comma && sheet["thousands"].empty() && sheet["decimal"].empty())
        return "let the map say what the comma is: --set thousands=comma or --set decimal=comma";
    if (text.find_first_of("$\xC2\xE2") != std::string_view::npos && sheet["currency"].empty())
        return "let the map name the sign: --set 'currency=$'";
    if (text.starts_with('(') && sheet["negatives"].empty())
        return "let the map say that it is below zero: --set negatives=parentheses";
    return "write digits alone";
}

struct written_unit {
    std::string_view written, unit;
};
constexpr written_unit units_written[] = {
    {"ft", "ft"},     {"ft.", "ft"},     {"feet", "ft"},   {"foot", "ft"},  {"'", "ft"},    {"in", "in"},
    {"in.", "in"},    {"inch", "in"},    {"inches", "in"}, {"\"", "in"},    {"yd", "yd"},   {"yards", "yd"},
    {"m", "m"},       {"meters", "m"},   {"metres", "m"},  {"cm", "cm"},    {"mm", "mm"},   {"um", "um"},
    {"micron", "um"}, {"microns", "um"}, {"mil", "mil"},   {"mils", "mil"}, {"lb", "lb"},   {"lbs", "lb"},
    {"lb.", "lb"},    {"pounds", "lb"},  {"kg", "kg"},     {"kgs", "kg"},   {"ton", "ton"}, {"tons", "ton"}};

/// The unit written after a number, and the number without it; empty where none is written, none where it is unknown.
std::optional<std::string_view> take_unit(std::string_view& text) {
    auto end = text.size();
    while (end > 0 && !is_digit(text[end - 1]) && text[end - 1] != ')')
        --end;
    const auto written = records::small_letters(std::string{trimmed(text.substr(end))});
    text = trimmed(text.substr(0, end));
    if (written.empty()) return std::string_view{};
    for (const auto& each : units_written)
        if (each.written == written) return each.unit;
    return std::nullopt;
}

/// A count of one unit as a decimal of another.
read_value converted(const std::string& digits, std::string_view from, std::string_view into) {
    const auto [value, fault] = quantity::read_decimal(digits);
    if (fault != quantity::decimal_fault::none)
        return wrong(shown(digits) + " has more than 9 digits before or after the point", "write fewer digits");
    if (from == into) return {digits};
    for (const auto& ratio : records::unit_ratios()) {
        if (ratio.from != from || ratio.to != into) continue;
        constexpr int decimals = 6;
        const auto numerator =
            static_cast<quantity::wide>(value.mantissa) * ratio.times * quantity::power_of_ten(decimals);
        const auto denominator = quantity::power_of_ten(value.scale) * ratio.over;
        const auto count = quantity::half_up(numerator, denominator);
        read_value made{quantity::shortest_text({count, decimals})};
        if (numerator % denominator != 0)
            made.doubt = fmt::format("{} {} do not come out even in {}: taken as {}", digits, from, into, made.value);
        return made;
    }
    return wrong(fmt::format("{} does not become {}", from, into), fmt::format("write it in {}", into));
}

/// 8' 6" in feet and inches: the two are added.
std::optional<read_value> feet_and_inches(std::string_view text, const sheet_rules& sheet, std::string_view into) {
    const auto foot = text.find('\'');
    if (into != "ft" || foot == std::string_view::npos || !text.ends_with('"')) return std::nullopt;
    const auto feet = plain_digits(trimmed(text.substr(0, foot)), sheet);
    const auto inches = plain_digits(trimmed(text.substr(foot + 1, text.size() - foot - 2)), sheet);
    if (!all_digits(feet) || inches.empty() || feet.size() > 6) return std::nullopt;
    const auto [part, fault] = quantity::read_decimal(inches);
    if (fault != quantity::decimal_fault::none) return std::nullopt;
    const auto scale = static_cast<std::int64_t>(quantity::power_of_ten(part.scale));
    const auto all = quantity::decimal{std::stoll(feet) * 12 * scale + part.mantissa, part.scale};
    auto made = converted(quantity::fixed_text(all.mantissa, all.scale), "in", into);
    return made;
}

} // namespace

const std::string& sheet_rules::operator[](std::string_view rule) const {
    static const std::string nothing;
    const auto found = said_.find(rule);
    return found == said_.end() ? nothing : found->second;
}

std::string_view trimmed(std::string_view text) {
    constexpr std::string_view spaces = " \t\r\n";
    while (!text.empty()) {
        if (spaces.find(text.front()) != std::string_view::npos)
            text.remove_prefix(1);
        else if (text.starts_with(no_break_space))
            text.remove_prefix(no_break_space.size());
        else if (spaces.find(text.back()) != std::string_view::npos)
            text.remove_suffix(1);
        else if (text.ends_with(no_break_space))
            text.remove_suffix(no_break_space.size());
        else
            break;
    }
    return text;
}

read_value read_date(std::string_view text, const sheet_rules& sheet) {
    if (quantity::read_day(text)) return {std::string{text}};
    bool had_time = false;
    const auto date = without_time(text, had_time);
    if (had_time && sheet["times"].empty())
        return wrong(shown(text) + " has a time of day", "let the map leave it out: --set times=drop");
    if (quantity::read_day(date)) return {std::string{date}};
    const auto& order = sheet["dates"];
    if (order.empty())
        return wrong(shown(text) + " is not written as 2026-05-14",
                     "let the map say the order: --set dates=mdy, --set dates=dmy or --set dates=ymd");
    auto parts = parts_of_date(date);
    const auto as_order =
        wrong(shown(text) + " is no date in the map's order, " + order, "mend it, or the map's rule 'dates'");
    if (parts.size() != 3) return as_order;
    std::map<char, std::string> by_letter;
    const bool month_first = !all_digits(parts[0]), month_second = !all_digits(parts[1]);
    const std::string here = month_first ? "mdy" : month_second && order != "ymd" ? "dmy" : order;
    for (std::size_t i = 0; i < parts.size(); ++i)
        by_letter[here[i]] = here[i] == 'm' ? month_number(parts[i]) : parts[i];
    auto& year = by_letter['y'];
    if (year.size() == 2 && all_digits(year)) {
        if (sheet["short_years"].empty())
            return wrong(shown(text) + " has a year of two digits",
                         "let the map say its hundreds: --set short_years=20");
        year.insert(0, sheet["short_years"]);
    }
    auto made = fmt::format("{}-{}-{}", year, two_digits(by_letter['m']), two_digits(by_letter['d']));
    if (!quantity::read_day(made)) return as_order;
    return {std::move(made)};
}

read_value read_number(std::string_view text, const sheet_rules& sheet, std::string_view unit, std::string_view into) {
    const auto written = text;
    if (auto both = feet_and_inches(text, sheet, into); both && !unit.empty()) return *both;
    bool negative = text.starts_with('-');
    if (negative) text = trimmed(text.substr(1));
    if (text.starts_with('(') && text.ends_with(')') && !sheet["negatives"].empty()) {
        negative = true;
        text = trimmed(text.substr(1, text.size() - 2));
    }
    if (const auto& sign = sheet["currency"]; !sign.empty()) {
        if (text.starts_with(sign)) text = trimmed(text.substr(sign.size()));
        if (text.ends_with(sign)) text = trimmed(text.substr(0, text.size() - sign.size()));
    }
    std::string_view of = unit;
    if (!unit.empty()) {
        const auto given = take_unit(text);
        if (!given) return wrong(shown(written) + " has a unit that is not known", "write such as 96 ft");
        if (!given->empty()) of = *given;
        if (into.empty() && of != unit)
            return wrong(fmt::format("{} is in {} where the map says {}", shown(written), of, unit),
                         "take rows of one unit in at a time, each with its map");
    }
    auto digits = plain_digits(text, sheet);
    if (digits.empty()) {
        std::string_view without = text;
        if (unit.empty() && !into.empty() && take_unit(without).value_or("") != "")
            return wrong(shown(written) + " has a unit",
                         "let the map say the unit of the others: --set unit.KIND.COLUMN=" + std::string{into});
        return wrong(shown(written) + " is not a number as the map has them", why_no_number(text, sheet));
    }
    auto made = unit.empty() || into.empty() ? read_value{std::move(digits)} : converted(digits, of, into);
    if (negative && made.good()) made.value.insert(0, 1, '-');
    return made;
}

read_value read_word(std::string_view text, std::string_view words) {
    std::vector<std::string> theirs;
    const auto small = records::small_letters(std::string{trimmed(text)});
    for (const auto& pair : records::listed(words)) {
        const auto sign = pair.find('=');
        const auto their = std::string{trimmed(std::string_view{pair}.substr(0, sign))};
        const auto our = std::string{trimmed(std::string_view{pair}.substr(sign + 1))};
        if (small == records::small_letters(their) || small == records::small_letters(our)) return {our};
        theirs.push_back(their);
    }
    std::string all;
    for (const auto& each : theirs)
        all += (all.empty() ? "" : ", ") + each;
    return wrong(shown(text) + " is none of the map's words", "mend it, or add it to the map's words: " + all);
}

} // namespace tarewell::intake
