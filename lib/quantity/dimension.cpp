#include "quantity/dimension.hpp"

namespace tarewell::quantity {

length feet(const decimal& value, length_unit written) {
    if (written == length_unit::ft) return {value.mantissa, power_of_ten(value.scale)};
    return {wide{value.mantissa} * 10'000, power_of_ten(value.scale) * m_per_ft_e4};
}

} // namespace tarewell::quantity
