#pragma once
#include "quantity/day.hpp"
#include "quantity/decimal.hpp"

#include <optional>
#include <span>
#include <string_view>

namespace tarewell::reconcile {

using quantity::day;
using quantity::decimal;

/// A national value that stands in where the coordinator's own table of rates has none.
struct usual_rate {
    std::string_view kind; ///< hours or miles
    std::string_view begins;
    std::string_view amount;
    std::string_view source;
};

struct usual_rate_in_force {
    decimal value;
    std::string_view source;
};

std::span<const usual_rate> usual_rates();

/// The value in force on a day; none for other kinds and days before the first.
std::optional<usual_rate_in_force> usual_rate_on(std::string_view kind, day on);

bool is_above(const decimal& a, const decimal& b);

} // namespace tarewell::reconcile
