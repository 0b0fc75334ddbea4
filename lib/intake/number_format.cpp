#include "intake/number_format.hpp"

#include "quantity/day.hpp"

#include <fmt/format.h>

#include <charconv>
#include <cmath>

namespace tarewell::intake {
namespace {

std::optional<double> double_of(std::string_view text) {
    double value = 0;
    const auto [end, failure] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (failure != std::errc{} || end != text.data() + text.size() || !std::isfinite(value)) return std::nullopt;
    return value;
}

/// "1.5e-3", as fmt's %e writes it, as "0.0015".
std::string without_exponent(const std::string& scientific, int exponent) {
    std::string digits;
    for (const char c : scientific.substr(0, scientific.find('e')))
        if (c >= '0' && c <= '9') digits += c;
    while (digits.size() > 1 && digits.back() == '0')
        digits.pop_back();
    if (exponent < 0) return "0." + std::string(static_cast<std::size_t>(-exponent - 1), '0') + digits;
    const auto before = static_cast<std::size_t>(exponent) + 1;
    if (digits.size() <= before) return digits + std::string(before - digits.size(), '0');
    return digits.substr(0, before) + "." + digits.substr(before);
}

bool is_letter(char c, char lower) { return (c | 0x20) == lower; }

/// A format's first section without its quoted texts, escapes, and colours or conditions in brackets.
std::string bare(std::string_view code) {
    std::string made;
    for (std::size_t i = 0; i < code.size(); ++i) {
        const char c = code[i];
        if (c == ';') break;
        if (c == '"') {
            i = std::min(code.find('"', i + 1), code.size() - 1);
        } else if (c == '\\' || c == '_' || c == '*') {
            ++i;
        } else if (c == '[') {
            const auto end = std::min(code.find(']', i), code.size() - 1);
            const auto inside = code.substr(i + 1, end - i - 1);
            if (inside.size() <= 2 && inside.find_first_not_of("hHmMsS") == std::string_view::npos) made += inside;
            i = end;
        } else {
            made += c;
        }
    }
    return made;
}

constexpr std::int64_t seconds_a_day = 86'400;
constexpr std::int64_t last_day = 2'958'465; // 9999-12-31 of the 1900 epoch

std::optional<std::string> day_text(std::int64_t days, bool epoch_1904) {
    constexpr std::int64_t never_was = 60, between_epochs = 1'462;
    if (epoch_1904) days += between_epochs;
    if (days == never_was || days < 1 || days > last_day) return std::nullopt;
    // Counted as if 1900 had been a leap year: from the 1st of March on, day 0 is the 30th of December 1899.
    const auto zero = date::sys_days{date::year{1899} / 12 / (days > never_was ? 30 : 31)};
    return quantity::text_of(zero + date::days{days});
}

} // namespace

number_format read_number_format(std::string_view code) {
    number_format made;
    const auto text = bare(code);
    if (text.size() == 7 && is_letter(text[0], 'g')) return made; // General
    bool minutes = false;
    for (const char c : text) {
        made.percent = made.percent || c == '%';
        made.date = made.date || is_letter(c, 'd') || is_letter(c, 'y');
        made.time = made.time || is_letter(c, 'h') || is_letter(c, 's');
        minutes = minutes || is_letter(c, 'm');
    }
    if (minutes && !made.date && !made.time) made.date = true; // "mmm": a month
    if (text.size() > 1 && text.find_first_not_of('0') == std::string::npos)
        made.digits = static_cast<int>(std::min<std::size_t>(text.size(), 15));
    return made;
}

number_format built_in_format(unsigned number) {
    number_format made;
    made.percent = number == 9 || number == 10;
    made.date = (number >= 14 && number <= 17) || number == 22 || (number >= 27 && number <= 31) || number == 36 ||
                (number >= 50 && number <= 58);
    made.time = (number >= 18 && number <= 22) || (number >= 32 && number <= 35) || (number >= 45 && number <= 47);
    return made;
}

std::optional<std::string> shown_number(std::string_view text, int digits) {
    const auto value = double_of(text);
    if (!value) return std::nullopt;
    if (*value == 0) return std::string(static_cast<std::size_t>(std::max(digits, 1)), '0');
    const auto scientific = fmt::format("{:.14e}", std::abs(*value));
    const int exponent = std::stoi(scientific.substr(scientific.find('e') + 1));
    if (exponent < -12 || exponent > 14) return std::string{text};
    auto shown = without_exponent(scientific, exponent);
    if (static_cast<std::size_t>(digits) > shown.size() && shown.find('.') == std::string::npos)
        shown.insert(0, static_cast<std::size_t>(digits) - shown.size(), '0');
    return (*value < 0 ? "-" : "") + shown;
}

std::optional<std::string> shown_date(std::string_view serial, const number_format& format, bool epoch_1904,
                                      bool& hid_time) {
    const auto value = double_of(serial);
    if (!value || *value < 0 || *value > static_cast<double>(last_day + 1)) return std::nullopt;
    auto seconds = std::llround(*value * static_cast<double>(seconds_a_day));
    const auto days = seconds / seconds_a_day;
    seconds %= seconds_a_day;
    std::string time = fmt::format("{:02}:{:02}", seconds / 3'600, seconds / 60 % 60);
    if (seconds % 60 != 0) time += fmt::format(":{:02}", seconds % 60);
    if (days == 0 && !epoch_1904 && !(format.date && seconds == 0)) return time;
    if (!format.date && format.time && days == 0) return time;
    auto day = day_text(days, epoch_1904);
    if (!day || seconds == 0) return day;
    if (!format.time) {
        hid_time = true;
        return day;
    }
    return *day + " " + time;
}

} // namespace tarewell::intake
