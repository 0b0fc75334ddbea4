#pragma once
#include "records/season.hpp"

#include <string>
#include <vector>

namespace tarewell::grant {

using quantity::day;
using quantity::span_of_days;

/// A report that the award asks for.
struct due_report {
    std::string name; ///< "2026-Q3", "annual 2026", "final"
    span_of_days period;
    day due;
    const records::closing* filed = nullptr; ///< null while it is open
};

/// Every report of the award, its end as amended by the day `on`, by the day on which it is due: a quarter's by the
/// setting report_due_days after it or on the first of report_due_dates after it; an annual one where annual_due_days
/// is above 0; the final one (2 CFR 200.328 and 200.329 give the usual days). Points into the season.
std::vector<due_report> reporting_calendar(const records::season& of, day on);

/// The last day on which records must be kept: records_kept_years after the final report is due
/// (2 CFR 200.334 counts from its submission; the award's terms govern).
day records_kept_until(const records::season& of, day on);

} // namespace tarewell::grant
