#include "quantity/quarter.hpp"

#include <fmt/format.h>

namespace tarewell::quantity {

std::string text_of(quarter value) { return fmt::format("{:04}-Q{}", value.year, value.number); }

std::optional<quarter> read_quarter(std::string_view text) {
    if (text.size() != 7 || text[4] != '-' || text[5] != 'Q') return std::nullopt;
    quarter value;
    for (const char c : text.substr(0, 4)) {
        if (c < '0' || c > '9') return std::nullopt;
        value.year = value.year * 10 + (c - '0');
    }
    value.number = text[6] - '0';
    if (value.number < 1 || value.number > 4 || value.year < 1) return std::nullopt;
    return value;
}

quarter next(quarter value) {
    return value.number == 4 ? quarter{value.year + 1, 1} : quarter{value.year, value.number + 1};
}

quarter previous(quarter value) {
    return value.number == 1 ? quarter{value.year - 1, 4} : quarter{value.year, value.number - 1};
}

span_of_days quarter_calendar::days_of(quarter value) const {
    const date::year_month start = date::year{value.year} / date::month{static_cast<unsigned>(first_month_)};
    const date::year_month from = start + date::months{3 * (value.number - 1)};
    const date::year_month after = from + date::months{3};
    return {day{from / 1}, day{after / 1} - date::days{1}};
}

quarter quarter_calendar::holding(day value) const {
    const date::year_month_day parts{value};
    const int months = int{parts.year()} * 12 + static_cast<int>(unsigned{parts.month()}) - first_month_;
    return {months / 12, months % 12 / 3 + 1};
}

} // namespace tarewell::quantity
