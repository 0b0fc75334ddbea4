#include "quantity/decimal.hpp"

#include <cmath>
#include <limits>
#include <stdexcept>

namespace tarewell::quantity {
namespace {

constexpr int digits_before = 9;
constexpr int digits_after = 9;

bool is_digit(char c) { return c >= '0' && c <= '9'; }

__extension__ using wide_unsigned = unsigned __int128;

int bits_of(wide_unsigned value) {
    int bits = 0;
    while (value != 0) {
        value >>= 1U;
        ++bits;
    }
    return bits;
}

} // namespace

bool operator==(const decimal& a, const decimal& b) {
    return wide{a.mantissa} * power_of_ten(b.scale) == wide{b.mantissa} * power_of_ten(a.scale);
}

wide power_of_ten(int exponent) {
    static const auto table = [] {
        struct {
            wide power[39];
        } made{};
        wide value = 1;
        for (auto& entry : made.power) {
            entry = value;
            if (&entry != &made.power[38]) value *= 10;
        }
        return made;
    }();
    return table.power[exponent];
}

decimal_reading read_decimal(std::string_view text, bool may_be_negative) {
    if (text.empty()) return {{}, decimal_fault::empty};
    bool negative = false;
    if (text.front() == '-' || text.front() == '+') {
        negative = text.front() == '-';
        if (!negative || !may_be_negative) {
            // One sign only: a text of nothing but signs must not call this as often as it has them.
            const auto rest = text.substr(1);
            const bool one = !rest.starts_with('-') && !rest.starts_with('+');
            return {{},
                    one && read_decimal(rest).fault == decimal_fault::none ? decimal_fault::sign
                                                                           : decimal_fault::not_a_number};
        }
        text.remove_prefix(1);
    }
    decimal value;
    int before = 0;
    bool point = false;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text[i] == '.') {
            if (point || i == 0 || i + 1 == text.size()) return {{}, decimal_fault::not_a_number};
            point = true;
            continue;
        }
        if (!is_digit(text[i])) return {{}, decimal_fault::not_a_number};
        if (point)
            ++value.scale;
        else if (before > 0 || text[i] != '0')
            ++before;
        if (before > digits_before || value.scale > digits_after) {
            // Still a number? Then say that it is too long rather than not a number.
            bool number = true;
            bool seen = point;
            for (std::size_t j = i + 1; j < text.size(); ++j) {
                if (text[j] == '.' && !seen)
                    seen = true;
                else
                    number = number && is_digit(text[j]);
            }
            return {{}, number ? decimal_fault::too_many_digits : decimal_fault::not_a_number};
        }
        value.mantissa = value.mantissa * 10 + (text[i] - '0');
    }
    if (text.empty()) return {{}, decimal_fault::not_a_number};
    if (negative) value.mantissa = -value.mantissa;
    return {value, decimal_fault::none};
}

decimal decimal_of(std::string_view text) {
    const auto reading = read_decimal(text, true);
    if (reading.fault != decimal_fault::none) throw std::invalid_argument("not a decimal number: " + std::string{text});
    return reading.value;
}

std::int64_t half_up(wide numerator, wide denominator) {
    wide quotient = numerator / denominator;
    wide remainder = numerator % denominator;
    if (remainder < 0) {
        remainder += denominator;
        --quotient;
    }
    if (remainder >= denominator - remainder) ++quotient;
    if (quotient > std::numeric_limits<std::int64_t>::max() || quotient < std::numeric_limits<std::int64_t>::min())
        throw std::overflow_error("a sum passes what 64 bits hold");
    return static_cast<std::int64_t>(quotient);
}

double nearest_double(wide numerator, wide denominator) {
    if (numerator == 0) return 0.0;
    // Doubles hold whole numbers below 2^53 exactly, and their division is rounded once, to the nearest.
    constexpr wide exact = wide{1} << 53;
    if (-exact < numerator && numerator < exact && denominator < exact)
        return static_cast<double>(numerator) / static_cast<double>(denominator);
    const bool negative = numerator < 0;
    auto top = static_cast<wide_unsigned>(negative ? -numerator : numerator);
    const auto bottom = static_cast<wide_unsigned>(denominator);
    // Long division to 64 bits of quotient; what is left over only breaks ties.
    int exponent = 0;
    wide_unsigned quotient = top / bottom;
    wide_unsigned rest = top % bottom;
    while (bits_of(quotient) < 64) {
        rest <<= 1U;
        quotient <<= 1U;
        if (rest >= bottom) {
            rest -= bottom;
            quotient |= 1U;
        }
        --exponent;
    }
    bool sticky = rest != 0;
    while (bits_of(quotient) > 53) {
        const int extra = bits_of(quotient) - 53;
        const wide_unsigned half = wide_unsigned{1} << static_cast<unsigned>(extra - 1);
        const wide_unsigned low = quotient & ((half << 1U) - 1);
        quotient >>= static_cast<unsigned>(extra);
        exponent += extra;
        if (low > half || (low == half && (sticky || (quotient & 1U) != 0))) ++quotient;
        sticky = false;
    }
    const double value = std::ldexp(static_cast<double>(quotient), exponent);
    return negative ? -value : value;
}

double nearest_double(const decimal& value) { return nearest_double(value.mantissa, power_of_ten(value.scale)); }

bool is_over_percent(std::int64_t part, std::int64_t whole, const decimal& percent) {
    return wide{part} * 100 * power_of_ten(percent.scale) > wide{whole} * percent.mantissa;
}

std::string fixed_text(std::int64_t mantissa, int decimals) {
    std::string digits = std::to_string(mantissa < 0 ? -mantissa : mantissa);
    const auto wanted = static_cast<std::size_t>(decimals);
    if (digits.size() <= wanted) digits.insert(0, wanted + 1 - digits.size(), '0');
    if (decimals > 0) digits.insert(digits.size() - wanted, ".");
    return mantissa < 0 ? "-" + digits : digits;
}

std::string shortest_text(const decimal& value) {
    std::string text = fixed_text(value.mantissa, value.scale);
    if (value.scale == 0) return text;
    while (text.back() == '0')
        text.pop_back();
    if (text.back() == '.') text.pop_back();
    return text == "-0" ? "0" : text;
}

} // namespace tarewell::quantity
