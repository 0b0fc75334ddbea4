#include "reconcile/scales.hpp"

namespace tarewell::reconcile {
namespace {

using namespace records; // NOLINT
using quantity::wide;

/// A weight as a whole number of 10^-9 of `to`; exact but for the last place of a conversion.
wide in_billionths(const decimal& value, weight_unit from, weight_unit to) {
    const wide scaled = wide{value.mantissa} * quantity::power_of_ten(9 - value.scale);
    if (from == to) return scaled;
    constexpr wide hundred_million = 100'000'000;
    return from == weight_unit::lb ? scaled * quantity::kg_per_lb_e8 / hundred_million
                                   : scaled * hundred_million / quantity::kg_per_lb_e8;
}

} // namespace

std::optional<accuracy_class> read_accuracy_class(std::string_view text) {
    if (text == "II") return accuracy_class::ii;
    if (text == "III") return accuracy_class::iii;
    if (text == "III L" || text == "IIIL" || text == "III-L") return accuracy_class::iii_l;
    if (text == "IIII") return accuracy_class::iiii;
    return std::nullopt;
}

std::int64_t tolerance_divisions(accuracy_class of, std::int64_t n) {
    switch (of) {
    case accuracy_class::ii:
        return n <= 5'000 ? 1 : n <= 20'000 ? 2 : 3;
    case accuracy_class::iii:
        return n <= 500 ? 1 : n <= 2'000 ? 2 : n <= 4'000 ? 3 : 5;
    case accuracy_class::iiii:
        return n <= 50 ? 1 : n <= 200 ? 2 : n <= 400 ? 3 : 5;
    case accuracy_class::iii_l:
        return n <= 500 ? 1 : n <= 1'000 ? 2 : 2 + (n - 1'000 + 499) / 500;
    }
    return 0;
}

std::int64_t minimum_load_divisions(accuracy_class of) {
    switch (of) {
    case accuracy_class::ii:
        return 0;
    case accuracy_class::iii:
        return 20;
    case accuracy_class::iii_l:
        return 50;
    case accuracy_class::iiii:
        return 10;
    }
    return 0;
}

std::int64_t net_in_divisions(const scale& on, const ticket& weighed) {
    return static_cast<std::int64_t>(in_billionths(weighed.net, weighed.unit, on.unit) /
                                     in_billionths(on.division, on.unit, on.unit));
}

bool on_division(const scale& on, const ticket& weighed) {
    if (weighed.unit != on.unit) return true;
    return in_billionths(weighed.net, on.unit, on.unit) % in_billionths(on.division, on.unit, on.unit) == 0;
}

capacity held_to_capacity(const scale& on, const ticket& weighed) {
    const auto load = in_billionths(weighed.gross ? *weighed.gross : weighed.net, weighed.unit, on.unit);
    const auto most = in_billionths(on.capacity, on.unit, on.unit);
    if (load <= most) return capacity::within;
    const auto known = read_accuracy_class(on.class_name);
    if (!known) return capacity::beyond_tolerance;
    const auto division = in_billionths(on.division, on.unit, on.unit);
    const auto tolerance = division * tolerance_divisions(*known, static_cast<std::int64_t>(most / division));
    return load <= most + tolerance ? capacity::within_tolerance : capacity::beyond_tolerance;
}

weight tolerance_of(const season& of, const ticket& weighed) {
    const auto& on = of.at(weighed.scale);
    const auto known = read_accuracy_class(on.class_name);
    if (!known) return weight{};
    const auto divisions = tolerance_divisions(*known, net_in_divisions(on, weighed));
    const auto one = quantity::weight_from(on.division, on.unit, of.the_award->unit);
    return weight{one.count() * divisions};
}

} // namespace tarewell::reconcile
