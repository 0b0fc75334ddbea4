#include "reconcile/usual_rates.hpp"

namespace tarewell::reconcile {
namespace {

constexpr std::string_view of_hours = "national value of a volunteer hour, Independent Sector, by data year";
constexpr std::string_view of_miles = "standard mileage rate for business, IRS notices";

constexpr usual_rate rates[] = {{"hours", "2018-01-01", "25.43", of_hours}, {"hours", "2019-01-01", "27.20", of_hours},
                                {"hours", "2020-01-01", "28.54", of_hours}, {"hours", "2021-01-01", "29.95", of_hours},
                                {"hours", "2022-01-01", "31.80", of_hours}, {"hours", "2023-01-01", "33.49", of_hours},
                                {"hours", "2024-01-01", "34.79", of_hours}, {"hours", "2025-01-01", "36.14", of_hours},
                                {"miles", "2019-01-01", "0.58", of_miles},  {"miles", "2020-01-01", "0.575", of_miles},
                                {"miles", "2021-01-01", "0.56", of_miles},  {"miles", "2022-01-01", "0.585", of_miles},
                                {"miles", "2022-07-01", "0.625", of_miles}, {"miles", "2023-01-01", "0.655", of_miles},
                                {"miles", "2024-01-01", "0.67", of_miles},  {"miles", "2025-01-01", "0.70", of_miles},
                                {"miles", "2026-01-01", "0.725", of_miles}};

} // namespace

std::span<const usual_rate> usual_rates() { return rates; }

std::optional<usual_rate_in_force> usual_rate_on(std::string_view kind, day on) {
    std::optional<usual_rate_in_force> found;
    for (const auto& each : rates)
        if (each.kind == kind && quantity::day_of(each.begins) <= on)
            found = usual_rate_in_force{quantity::decimal_of(each.amount), each.source};
    return found;
}

bool is_above(const decimal& a, const decimal& b) {
    return quantity::wide{a.mantissa} * quantity::power_of_ten(9 - a.scale) >
           quantity::wide{b.mantissa} * quantity::power_of_ten(9 - b.scale);
}

} // namespace tarewell::reconcile
