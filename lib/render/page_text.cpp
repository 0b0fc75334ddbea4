#include "render/page_parts.hpp"
#include "render/svg_canvas.hpp"

#include <fmt/format.h>

namespace tarewell::render::parts {

std::string words_of(quantity::day day) {
    static constexpr const char* months[] = {"January", "February", "March",     "April",   "May",      "June",
                                             "July",    "August",   "September", "October", "November", "December"};
    const date::year_month_day ymd{day};
    return fmt::format("{} {}, {}", months[static_cast<unsigned>(ymd.month()) - 1], static_cast<unsigned>(ymd.day()),
                       static_cast<int>(ymd.year()));
}

std::string words_in(quantity::weight value) { return grouped_digits(quantity::text_of(value)); }
std::string words_in(quantity::money value) { return grouped_digits(quantity::text_of(value)); }
std::string count_text(std::int64_t count) { return grouped_digits(fmt::format("{}", count)); }
std::string tons_text(double tons) { return grouped_digits(fmt::format("{:.4f}", tons)); }
std::string percent_text(double ratio) { return grouped_digits(fmt::format("{:.1f}", ratio * 100)) + "%"; }

std::string with_sign(quantity::money value) {
    const auto text = words_in(value);
    return text.starts_with('-') ? "-$" + text.substr(1) : "$" + text;
}

std::string words_in(const figures::value& value, std::string_view unit) {
    if (std::holds_alternative<std::monostate>(value)) return "not defined";
    return grouped_digits(figures::shown(value, unit));
}

std::string words_in(const figures::figure& of) { return words_in(of.value, of.unit); }

std::string shown_text(const figures::figure& of) {
    const auto text = words_in(of);
    if (std::holds_alternative<std::monostate>(of.value)) return text;
    if (of.unit == "ratio") return percent_text(std::get<figures::real>(of.value));
    if (const auto* dollars = std::get_if<quantity::money>(&of.value)) return with_sign(*dollars);
    if (of.unit == "$/ton") return (text.starts_with('-') ? "-$" + text.substr(1) : "$" + text) + " a ton";
    const auto* count = std::get_if<std::int64_t>(&of.value);
    if (count != nullptr && *count == 1 && of.unit.ends_with('s'))
        return text + " " + of.unit.substr(0, of.unit.size() - 1);
    return text + " " + of.unit;
}

value text_or_none(std::string text) { return text.empty() ? value{} : value(std::move(text)); }
value text_or_none(const std::optional<quantity::day>& day) { return day ? value(quantity::text_of(*day)) : value{}; }

void put_list(value& to, const std::string& name, value list) {
    const bool any = !list.empty();
    to[name] = std::move(list);
    to["any_" + name] = any;
}

} // namespace tarewell::render::parts
