#pragma once
#include "figures/figure.hpp"

#include <string>
#include <vector>

namespace tarewell::figures {

/// A number that the workbook's formulas refer to by its name.
struct named_term {
    std::string label, name;
    real value = 0; ///< 0 where the award gives none
    std::string note;
};

/// The award's terms and settings in force on the quarter's last day.
std::vector<named_term> terms_of(const records::season& season, const basis& on);

/// What a subaward's direct costs in the indirect base come to, the limit of its first one's day, and how much passes
/// it.
struct subaward_line {
    std::string subaward;
    money direct, direct_before, limit, over, over_before; ///< to date, and before the quarter
};
/// By name.
std::vector<subaward_line> subawards_of(const records::season& season, const basis& on);

/// The workbook's formula of a subaward's direct costs through a day, itself a formula; its name is in column A of the
/// row that # stands for.
std::string subaward_formula(std::string_view day);

} // namespace tarewell::figures
