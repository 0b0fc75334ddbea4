#pragma once
// Only for the checker's sources.
#include "ledger/kinds.hpp"
#include "quantity/decimal.hpp"

#include <fmt/format.h>

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

} // namespace tarewell::intake
