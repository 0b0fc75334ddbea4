#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace tarewell::quantity {

// A __int128 holds the exact product of any two decimals below.
__extension__ using wide = __int128;

/// An exact decimal number: mantissa / 10^scale, at most 9 digits before and 9 after the point.
struct decimal {
    std::int64_t mantissa = 0;
    int scale = 0; ///< decimals as written, 0 to 9

    /// Equal in value: 228, 228.0 and 228.00 are the same number.
    friend bool operator==(const decimal& a, const decimal& b);
};

enum class decimal_fault { none, empty, not_a_number, sign, too_many_digits };

struct decimal_reading {
    decimal value;
    decimal_fault fault = decimal_fault::none;
};

/// Reads `228`, `228.0`, `0.50` or, when `may_be_negative`, `-3.20`. Nothing else: no plus sign,
/// exponent, separator, space, `nan` or `inf`, no bare `.5` or `5.`.
decimal_reading read_decimal(std::string_view text, bool may_be_negative = false);

/// As read_decimal, for text that was checked before; throws std::invalid_argument otherwise.
decimal decimal_of(std::string_view text);

/// 10^exponent; exponent 0 to 38.
wide power_of_ten(int exponent);

/// numerator / denominator rounded to a whole number, halves towards plus infinity.
/// denominator > 0. Throws std::overflow_error when the result passes 64 bits.
std::int64_t half_up(wide numerator, wide denominator);

/// The double nearest to numerator / denominator (ties to even). denominator > 0.
double nearest_double(wide numerator, wide denominator);
double nearest_double(const decimal& value);

/// True when the part is more than so many percent of the whole, exactly.
bool is_over_percent(std::int64_t part, std::int64_t whole, const decimal& percent);

/// mantissa with a decimal point before its last `decimals` digits, as in -12.340.
std::string fixed_text(std::int64_t mantissa, int decimals);

/// The shortest writing of the same value: 228.50 gives 228.5, 40.0 gives 40.
std::string shortest_text(const decimal& value);

} // namespace tarewell::quantity
