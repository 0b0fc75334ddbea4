#pragma once
// Only for the checker's sources.
#include "intake/format_check.hpp"
#include "ledger/kinds.hpp"
#include "quantity/decimal.hpp"

#include <fmt/format.h>

#include <functional>
#include <stdexcept>
#include <string>

namespace tarewell::intake {

inline std::string quoted(std::string_view text) { return fmt::format("'{}'", text); }

inline std::string describe(ledger::kind which) {
    return which == ledger::kind::cover ? "registration" : std::string{ledger::info(which).name};
}

/// The whole number of a text whose form was checked.
inline std::int64_t whole(std::string_view text) {
    const auto value = quantity::decimal_of(text);
    return value.mantissa / static_cast<std::int64_t>(quantity::power_of_ten(value.scale));
}

/// A shared column must say what the record's first row said.
inline bool agrees(std::string_view column, std::string_view given, std::string_view before, std::string_view record,
                   const complaint& complain) {
    if (given == before) return true;
    complain(column, fmt::format("{} differs from '{}' in an earlier row of {}", quoted(given), before, record),
             "every row of one record says the same; to change it use: tarewell correct");
    return false;
}

// Nine digits before the point, as in every number that is written: sums over a season stay in 64 bits.
inline constexpr std::int64_t most_thousandths = 999'999'999'999;
inline constexpr std::int64_t most_cents = 99'999'999'999;

inline bool is_within(const std::function<std::int64_t()>& worked_out, std::int64_t most) {
    try {
        return worked_out() <= most;
    } catch (const std::overflow_error&) {
        return false;
    }
}

} // namespace tarewell::intake
