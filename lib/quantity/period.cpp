#include "quantity/period.hpp"

#include <fmt/format.h>

#include <cctype>
#include <stdexcept>

namespace tarewell::quantity {
namespace {

bool is_letter(char c) { return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_'; }

std::optional<int> read_whole(std::string_view text) {
    int value = 0;
    for (const char c : text) {
        if (c < '0' || c > '9') return std::nullopt;
        value = value * 10 + (c - '0');
    }
    return value;
}

std::optional<int> read_year(std::string_view text) {
    const auto year = text.size() == 4 ? read_whole(text) : std::nullopt;
    return year && *year > 0 ? year : std::nullopt;
}

/// 12 x year + month - 1
std::optional<int> read_month(std::string_view text) {
    if (text.size() != 7 || text[4] != '-') return std::nullopt;
    const auto year = read_year(text.substr(0, 4)), month = read_whole(text.substr(5));
    if (!year || !month || *month < 1 || *month > 12) return std::nullopt;
    return *year * 12 + *month - 1;
}

std::string month_text(int month) { return fmt::format("{:04}-{:02}", month / 12, month % 12 + 1); }

period span_of(quarter first, quarter last) {
    period made;
    made.is = period::kind::quarters;
    made.first = first;
    made.last = last;
    return made;
}

period span_of(int first_month, int last_month) {
    period made;
    made.is = period::kind::months;
    made.first_month = first_month;
    made.last_month = last_month;
    return made;
}

std::optional<period> read_span(std::string_view from, std::string_view to) {
    if (const auto first = read_quarter(from), last = read_quarter(to); first && last && *first <= *last)
        return span_of(*first, *last);
    if (const auto first = read_month(from), last = read_month(to); first && last && *first <= *last)
        return span_of(*first, *last);
    return std::nullopt;
}

} // namespace

period period::year(int of) {
    auto made = span_of(quarter{of, 1}, quarter{of, 4});
    made.is = kind::year;
    return made;
}

period period::whole_award() {
    period made;
    made.is = kind::whole_award;
    return made;
}

std::string_view period::word() const { return is == kind::quarter ? "quarter" : is == kind::year ? "year" : "period"; }

std::string text_of(const period& value) {
    switch (value.is) {
    case period::kind::quarter:
        return text_of(value.first);
    case period::kind::year:
        return fmt::format("{:04}", value.first.year);
    case period::kind::whole_award:
        return "final";
    case period::kind::quarters:
        return text_of(value.first) + ".." + text_of(value.last);
    case period::kind::months:
        break;
    }
    return month_text(value.first_month) + ".." + month_text(value.last_month);
}

std::string title_of(const period& value) {
    return value.is == period::kind::whole_award ? "the whole award" : text_of(value);
}

std::optional<period> read_period(std::string_view text) {
    if (text == "final") return period::whole_award();
    if (const auto one = read_quarter(text)) return period{*one};
    if (const auto year = read_year(text)) return period::year(*year);
    const auto dots = text.find("..");
    if (dots == std::string_view::npos) return std::nullopt;
    return read_span(text.substr(0, dots), text.substr(dots + 2));
}

span_of_days days_of(const period& of, const quarter_calendar& calendar) {
    if (of.is == period::kind::whole_award) throw std::logic_error("the award knows its own days");
    if (of.is != period::kind::months) return {calendar.days_of(of.first).from, calendar.days_of(of.last).to};
    const auto month = [](int number) {
        return date::year{number / 12} / date::month{static_cast<unsigned>(number % 12 + 1)};
    };
    return {day{month(of.first_month) / 1}, day{month(of.last_month) / date::last}};
}

std::string said_of(const period& of, std::string_view sentence) {
    constexpr std::string_view word = "uarter";
    std::string said;
    for (std::size_t at = 0; at < sentence.size();) {
        const bool begins = at == 0 || !is_letter(sentence[at - 1]);
        const auto end = at + 1 + word.size();
        const bool ends = end >= sentence.size() || !is_letter(sentence[end]);
        const char first = sentence[at];
        if (of.is_quarter() || !begins || !ends || (first != 'q' && first != 'Q') ||
            sentence.substr(at + 1, word.size()) != word) {
            said += first;
            ++at;
            continue;
        }
        std::string own{of.word()};
        if (first == 'Q') own[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(own[0])));
        said += own;
        at = end;
    }
    return said;
}

} // namespace tarewell::quantity
