#include "intake/format_check.hpp"

#include "intake/csv.hpp"
#include "quantity/day.hpp"
#include "quantity/decimal.hpp"

#include "quantity/clean_text.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

namespace tarewell::intake {
namespace {

using quantity::decimal_fault;
using records::column;
using records::column_type;

constexpr std::size_t longest_text = 32'000; // a workbook's cell holds 32,767 characters

bool is_space(std::string_view text, std::size_t at) {
    const char c = text[at];
    return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}

bool spaces_around(std::string_view text) {
    constexpr std::string_view no_break = "\xC2\xA0";
    return is_space(text, 0) || is_space(text, text.size() - 1) || text.starts_with(no_break) ||
           text.ends_with(no_break);
}

std::string shown(std::string_view text) {
    constexpr std::size_t most = 40;
    std::string out;
    for (const char c : text.substr(0, most))
        out += c == '\n' || c == '\r' || c == '\t' ? ' ' : c;
    // Not to end inside a character of several bytes.
    if (text.size() > most) {
        while (!out.empty() && (static_cast<unsigned char>(out.back()) & 0xC0U) == 0x80U)
            out.pop_back();
        if (!out.empty() && static_cast<unsigned char>(out.back()) >= 0xC0U) out.pop_back();
        out += "...";
    }
    return "'" + out + "'";
}

std::string example_of(const column& which) {
    switch (which.type) {
    case column_type::id:
        return "give an id";
    case column_type::text:
        return "give a text";
    case column_type::date:
        return "write a date as 2026-05-14";
    case column_type::time:
        return "write a time as 08:30";
    case column_type::positive:
        return "write a number above 0 such as 30 or 7.5";
    case column_type::nonnegative:
        return "write a number such as 228 or 0.5";
    case column_type::amount:
        return "write an amount such as 1250.00";
    case column_type::credit:
        return "write an amount such as 1250.00, or -40.00 for a credit";
    case column_type::count:
        return "write a whole number from 1";
    case column_type::month:
        return "write a month from 1 to 12";
    case column_type::word:
        return fmt::format("write one of: {}", fmt::join(which.words, ", "));
    }
    return {};
}

std::string problem_with_number(std::string_view text, decimal_fault fault) {
    if (text.find(',') != std::string_view::npos) return shown(text) + " has a comma";
    switch (fault) {
    case decimal_fault::sign:
        return shown(text) + " has a sign";
    case decimal_fault::too_many_digits:
        return shown(text) + " has more than 9 digits before or after the point";
    default:
        return shown(text) + " is not a number";
    }
}

/// Empty when all is well, else what is wrong.
std::string problem_with_decimal(const column& which, std::string_view text) {
    const bool credit = which.type == column_type::credit;
    const auto reading = quantity::read_decimal(text, credit);
    if (reading.fault != decimal_fault::none) return problem_with_number(text, reading.fault);
    const auto& value = reading.value;
    switch (which.type) {
    case column_type::positive:
        return value.mantissa > 0 ? "" : shown(text) + " is not above 0";
    case column_type::amount:
    case column_type::credit:
        return value.scale <= 2 ? "" : shown(text) + " has more than two decimals";
    case column_type::count:
    case column_type::month: {
        const auto unit = static_cast<std::int64_t>(quantity::power_of_ten(value.scale));
        if (value.mantissa % unit != 0) return shown(text) + " is not a whole number";
        const auto whole = value.mantissa / unit;
        if (whole < 1) return shown(text) + " is below 1";
        return which.type == column_type::month && whole > 12 ? shown(text) + " is not a month" : "";
    }
    default:
        return "";
    }
}

bool is_time(std::string_view text) {
    if (text.size() != 5 || text[2] != ':') return false;
    for (const std::size_t i : {0U, 1U, 3U, 4U})
        if (text[i] < '0' || text[i] > '9') return false;
    return text.substr(0, 2) < "24" && text[3] < '6';
}

std::string problem_with_id(std::string_view text) {
    if (text.find_first_of("\n\r\t") != std::string_view::npos) return shown(text) + " has a tab or a line break";
    return "";
}

std::string problem_with(const column& which, std::string_view text) {
    if (text.size() > longest_text) return "the text is longer than 32,000 bytes";
    const bool spaced = which.type != column_type::text && spaces_around(text);
    if (spaced) return shown(text) + " has spaces around it";
    switch (which.type) {
    case column_type::text:
        return "";
    case column_type::id:
        return problem_with_id(text);
    case column_type::date:
        if (quantity::read_day(text)) return "";
        return shown(text) + (text.size() == 10 && text[4] == '-' && text[7] == '-' ? " is not a date that exists"
                                                                                    : " is not written as a date");
    case column_type::time:
        return is_time(text) ? "" : shown(text) + " is not a time";
    case column_type::word:
        return std::find(which.words.begin(), which.words.end(), text) != which.words.end()
                   ? ""
                   : shown(text) + " is not one of the words";
    default:
        return problem_with_decimal(which, text);
    }
}

} // namespace

bool check_format(const records::row& values, const complaint& complain) {
    bool good = true;
    const auto& kind = records::info(values.which);
    for (std::size_t i = 0; i < kind.columns.size(); ++i) {
        const auto& which = kind.columns[i];
        const auto text = values[i];
        if (text.empty()) {
            if (!which.required) continue;
            complain(which.name, "is empty", example_of(which));
            good = false;
            continue;
        }
        if (auto problem = problem_with(which, text); !problem.empty()) {
            complain(which.name, std::move(problem), example_of(which));
            good = false;
        }
    }
    return good;
}

bool check_text(const records::row& values, const complaint& complain) {
    const auto& columns = records::info(values.which).columns;
    bool good = true;
    for (std::size_t i = 0; i < columns.size(); ++i) {
        const auto at = quantity::first_bad_byte(values[i]);
        if (at == std::string_view::npos) continue;
        const auto byte = static_cast<unsigned char>(values[i][at]);
        complain(columns[i].name,
                 byte < 0x20 ? fmt::format("holds the control character 0x{:02X}", byte)
                             : fmt::format("is not valid UTF-8 (byte 0x{:02X})", byte),
                 byte < 0x20 ? "take it out" : "save the file as CSV UTF-8");
        good = false;
    }
    return good;
}

} // namespace tarewell::intake
