#include "quantity/day.hpp"

#include <fmt/format.h>

#include <stdexcept>

namespace tarewell::quantity {

std::optional<day> read_day(std::string_view text) {
    if (text.size() != 10 || text[4] != '-' || text[7] != '-') return std::nullopt;
    int parts[3] = {0, 0, 0};
    int part = 0;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (i == 4 || i == 7) {
            ++part;
            continue;
        }
        if (text[i] < '0' || text[i] > '9') return std::nullopt;
        parts[part] = parts[part] * 10 + (text[i] - '0');
    }
    const date::year_month_day value{date::year{parts[0]}, date::month{static_cast<unsigned>(parts[1])},
                                     date::day{static_cast<unsigned>(parts[2])}};
    if (!value.ok() || parts[0] == 0) return std::nullopt;
    return day{value};
}

day day_of(std::string_view text) {
    const auto value = read_day(text);
    if (!value) throw std::invalid_argument("not a date: " + std::string{text});
    return *value;
}

std::string text_of(day value) {
    const date::year_month_day parts{value};
    return fmt::format("{:04}-{:02}-{:02}", int{parts.year()}, unsigned{parts.month()}, unsigned{parts.day()});
}

} // namespace tarewell::quantity
