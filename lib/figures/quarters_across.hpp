#pragma once
#include "figures/expression.hpp"
#include "figures/figure.hpp"

#include <map>
#include <string>
#include <vector>

namespace tarewell::figures {

/// A quarter of a period, or the part of one that lies in it, with its figures now.
struct quarter_column {
    std::string name; ///< "2026-Q2", "2026-05..2026-06", "before 2026-04-01"
    quantity::span_of_days days;
    const records::closing* closed = nullptr; ///< of the whole quarter; null: open, or a part
    report now;
    std::map<std::string, value, std::less<>> filed; ///< by figure, as the closing has them
    [[nodiscard]] const value& now_of(std::string_view figure) const { return now.find(figure)->value; }
    /// As filed; as it is now where the quarter is open or the closing is older than the figure.
    [[nodiscard]] const value& shown_of(std::string_view figure) const;
};

/// One figure over the quarters of a period. Where it sums: what the columns show, and `changed`, come to the period's.
struct figure_across {
    const figure* of = nullptr; ///< of the period's report
    across how = across::sums;
    value changed; ///< since filing, in all closed quarters; of sums alone
};

/// A period's quarters side by side. Points into the season and the report.
struct quarters_across {
    std::vector<quarter_column> columns;
    std::vector<figure_across> lines;
};

/// Of a period that is no quarter: its quarters by the award's calendar, in order, less those outside the award in
/// which nothing is dated. All figures but the statistics, in their order.
quarters_across quarters_side_by_side(const records::season& season, const reconcile::reckoning& reckoned,
                                      const report& of);

/// False where every figure of the days that sums is 0.
bool has_anything(const report& of);

/// "sum", "on the last day", "each once in the year", "worked out anew".
std::string in_words(across how, const quantity::period& period);

/// a + b and a - b of values of one kind; none where the kinds differ or one is undefined.
value sum_of(const value& a, const value& b);
value difference_of(const value& a, const value& b);

/// A closing's figures as they were filed, each as the kind of value that the figure has now.
std::map<std::string, value, std::less<>> filed_values(const records::closing& of, const report& now);

} // namespace tarewell::figures
