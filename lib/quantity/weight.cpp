#include "quantity/weight.hpp"

namespace tarewell::quantity {

std::optional<weight_unit> read_weight_unit(std::string_view text) {
    if (text == "lb") return weight_unit::lb;
    if (text == "kg") return weight_unit::kg;
    return std::nullopt;
}

std::string_view name_of(weight_unit unit) { return unit == weight_unit::lb ? "lb" : "kg"; }

weight weight_from(const decimal& value, weight_unit written, weight_unit award) {
    wide numerator = wide{value.mantissa} * 1000;
    wide denominator = power_of_ten(value.scale);
    if (written == weight_unit::lb && award == weight_unit::kg) {
        numerator *= kg_per_lb_e8;
        denominator *= 100'000'000;
    } else if (written == weight_unit::kg && award == weight_unit::lb) {
        numerator *= 100'000'000;
        denominator *= kg_per_lb_e8;
    }
    return weight{half_up(numerator, denominator)};
}

std::string text_of(weight value) { return fixed_text(value.count(), 3); }

fraction short_tons_exact(weight value, weight_unit award) {
    // thousandths / 1000 / 2000 lb, or / 907.18474 kg.
    if (award == weight_unit::lb) return {value.count(), 2'000'000};
    return {wide{value.count()} * 100, 90'718'474};
}

double short_tons(weight value, weight_unit award) {
    const auto exact = short_tons_exact(value, award);
    return nearest_double(exact.numerator, exact.denominator);
}

} // namespace tarewell::quantity
