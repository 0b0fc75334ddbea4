#include "days.hpp"

#include <fmt/format.h>

namespace tarewell::cli {

std::optional<quantity::day> day_given(const char* option, const std::string& text) {
    if (text.empty()) return std::nullopt;
    const auto day = quantity::read_day(text);
    if (!day)
        throw records::input_error(fmt::format("{}: '{}' is not a date; write a date as 2026-05-14", option, text));
    return day;
}

quantity::day day_or_today(const std::string& on, const context& with) {
    return day_given("--on", on).value_or(quantity::day_of(with.around.now().substr(0, 10)));
}

} // namespace tarewell::cli
