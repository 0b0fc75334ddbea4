#include "records/fields.hpp"

namespace tarewell::records {

std::int64_t whole_of(std::string_view text) {
    const auto value = quantity::decimal_of(text);
    return value.mantissa / static_cast<std::int64_t>(quantity::power_of_ten(value.scale));
}

bool take(day& to, std::string_view text, const season& /*among*/) {
    to = quantity::day_of(text);
    return true;
}

bool take(decimal& to, std::string_view text, const season& /*among*/) {
    to = quantity::decimal_of(text);
    return true;
}

bool take(quantity::period& to, std::string_view text, const season& /*among*/) {
    const auto read = quantity::read_period(text);
    if (read) to = *read;
    return read.has_value();
}

} // namespace tarewell::records
