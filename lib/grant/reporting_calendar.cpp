#include "grant/reporting_calendar.hpp"

#include "records/settings.hpp"

#include <algorithm>
#include <limits>

namespace tarewell::grant {

using namespace records; // NOLINT

namespace {

int whole_setting(const season& of, std::string_view name, day on) {
    return static_cast<int>(std::min<std::int64_t>(of.number_on(name, on).mantissa, 100'000));
}

day after(day last, int days) { return last + date::days{days}; }

/// The first of the fixed dates after a day; the days after it where there are none.
day due_after(const season& of, day last) {
    const auto fixed = read_due_dates(of.setting_on("report_due_dates", last));
    if (!fixed || fixed->empty()) return after(last, whole_setting(of, "report_due_days", last));
    const auto year = date::year_month_day{last}.year();
    day first = day::max();
    for (const auto& each : *fixed)
        for (const auto candidate :
             {day{year / each.month() / each.day()}, day{(year + date::years{1}) / each.month() / each.day()}})
            if (candidate > last) first = std::min(first, candidate);
    return first;
}

} // namespace

std::vector<due_report> reporting_calendar(const season& of, day on) {
    const auto& award = of.the_award.value();
    const auto ends = of.terms_on(on).ends;
    const auto calendar = award.calendar();
    std::vector<due_report> reports;
    for (auto quarter = calendar.holding(award.begins); calendar.days_of(quarter).from <= ends;
         quarter = next(quarter)) {
        const auto days = calendar.days_of(quarter);
        reports.push_back({quantity::text_of(quarter), days, due_after(of, days.to), of.closing_of(quarter)});
        const auto annual = whole_setting(of, "annual_due_days", days.to);
        if (quarter.number == 4 && annual > 0) {
            const auto first = calendar.days_of({quarter.year, 1}).from;
            reports.push_back(
                {"annual " + std::to_string(quarter.year), {first, days.to}, after(days.to, annual),
                 of.closing_of(quantity::period::year(quarter.year))});
        }
    }
    reports.push_back({"final",
                       {award.begins, ends},
                       after(ends, whole_setting(of, "final_due_days", ends)),
                       of.closing_of(quantity::period::whole_award())});
    std::stable_sort(reports.begin(), reports.end(),
                     [](const due_report& a, const due_report& b) { return a.due < b.due; });
    return reports;
}

day records_kept_until(const season& of, day on) {
    const auto ends = of.terms_on(on).ends;
    const date::year_month_day due{after(ends, whole_setting(of, "final_due_days", ends))};
    const auto kept = due + date::years{std::min(whole_setting(of, "records_kept_years", ends), 1'000)};
    return kept.ok() ? day{kept} : day{kept.year() / kept.month() / date::last};
}

} // namespace tarewell::grant
