// Feeds any text to the readers of numbers, dates and quarters. What is accepted must be written back as
// the same value, and be what a simple check of its form, written apart, accepts.
#include "quantity/day.hpp"
#include "quantity/decimal.hpp"
#include "quantity/quarter.hpp"
#include "quantity/weight.hpp"

#include <algorithm>
#include <cstdio>
#include <cstdlib>

using namespace tarewell::quantity;

namespace {

void need(bool holds, const char* what) {
    if (holds) return;
    std::fprintf(stderr, "%s\n", what);
    std::abort();
}

bool digits(std::string_view text) {
    return !text.empty() && text.find_first_not_of("0123456789") == std::string_view::npos;
}

/// 1 to 9 digits, then a point and 1 to 9 digits or nothing; leading zeros do not count.
bool has_form_of_decimal(std::string_view text, bool may_be_negative) {
    if (may_be_negative && text.starts_with('-')) text.remove_prefix(1);
    const auto point = text.find('.');
    const auto whole = text.substr(0, point);
    if (!digits(whole)) return false;
    const auto first = std::min(whole.find_first_not_of('0'), whole.size());
    if (whole.size() - first > 9) return false;
    if (point == std::string_view::npos) return true;
    const auto rest = text.substr(point + 1);
    return digits(rest) && rest.size() <= 9;
}

/// The value in thousand-millionths, by long addition.
wide billionths(std::string_view text) {
    const bool negative = text.starts_with('-');
    if (negative) text.remove_prefix(1);
    wide value = 0;
    int decimals = -1;
    for (const char c : text) {
        if (c == '.') {
            decimals = 0;
            continue;
        }
        value = value * 10 + (c - '0');
        if (decimals >= 0) ++decimals;
    }
    for (int i = std::max(decimals, 0); i < 9; ++i)
        value *= 10;
    return negative ? -value : value;
}

void check_decimal(std::string_view text, bool may_be_negative) {
    const auto reading = read_decimal(text, may_be_negative);
    const bool accepted = reading.fault == decimal_fault::none;
    need(accepted == has_form_of_decimal(text, may_be_negative), "the number reader and the form differ");
    if (!accepted) return;
    const auto& value = reading.value;
    need(value.scale >= 0 && value.scale <= 9, "decimals out of range");
    need(value.mantissa * power_of_ten(9 - value.scale) == billionths(text), "a number is read as another");
    const auto again = read_decimal(shortest_text(value), true);
    need(again.fault == decimal_fault::none && again.value == value, "a number's shortest writing is another number");
    if (value.mantissa > 0) weight_from(value, weight_unit::kg, weight_unit::lb);
}

bool has_form_of_day(std::string_view text) {
    if (text.size() != 10 || text[4] != '-' || text[7] != '-') return false;
    if (!digits(text.substr(0, 4)) || !digits(text.substr(5, 2)) || !digits(text.substr(8, 2))) return false;
    const auto number = [&](std::size_t at, std::size_t size) {
        return std::atoi(std::string{text.substr(at, size)}.c_str());
    };
    const int year = number(0, 4), month = number(5, 2), of_month = number(8, 2);
    const bool leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
    const int days[] = {31, leap ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    return month >= 1 && month <= 12 && of_month >= 1 && of_month <= days[month - 1];
}

void check_day(std::string_view text) {
    const auto value = read_day(text);
    if (!value) {
        need(!has_form_of_day(text) || text.starts_with("0000"), "a date that exists is refused");
        return;
    }
    need(has_form_of_day(text), "a date that does not exist is accepted");
    need(text_of(*value) == text, "a date is read as another");
    for (const int month : {1, 4, 7, 10}) {
        const quarter_calendar calendar{month};
        need(calendar.days_of(calendar.holding(*value)).holds(*value), "a day is outside its own quarter");
    }
}

void check_quarter(std::string_view text) {
    const auto value = read_quarter(text);
    if (!value) return;
    need(value->number >= 1 && value->number <= 4, "a quarter's number out of range");
    need(text_of(*value) == text, "a quarter is read as another");
    need(previous(next(*value)) == *value, "the quarter before the next is another");
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const unsigned char* data, std::size_t size) {
    const std::string_view text{reinterpret_cast<const char*>(data), size};
    check_decimal(text, false);
    check_decimal(text, true);
    check_day(text);
    check_quarter(text);
    return 0;
}
