#include "quantity/money.hpp"

#include <stdexcept>

namespace tarewell::quantity {

money money_from(const decimal& value) {
    if (value.scale > 2) throw std::invalid_argument("an amount has at most two decimals");
    return money{value.mantissa * static_cast<std::int64_t>(power_of_ten(2 - value.scale))};
}

money money_from_rate(const decimal& quantity, const decimal& rate) {
    const wide product = wide{quantity.mantissa} * rate.mantissa;
    const int scale = quantity.scale + rate.scale;
    if (scale <= 2) return money{half_up(product * power_of_ten(2 - scale), 1)};
    return money{half_up(product, power_of_ten(scale - 2))};
}

money percent_of(money base, const decimal& percent) {
    return money{half_up(wide{base.count()} * percent.mantissa, power_of_ten(percent.scale + 2))};
}

std::string text_of(money value) { return fixed_text(value.count(), 2); }

} // namespace tarewell::quantity
