#pragma once
#include "figures/figure.hpp"

#include <string>
#include <vector>

namespace tarewell::figures {

/// One month of the award up to a day, with what was counted in it and up to its end.
struct month_line {
    quantity::span_of_days days; ///< the last one ends with the quarter's last day
    weight diverted;             ///< in the month
    weight diverted_to_date;
    weight net;      ///< of the bales weighed in the month
    weight estimate; ///< of the bundles in those bales
    real diverted_tons = 0;
    real diverted_tons_to_date = 0; ///< the last line's is the figure
};

/// Months from the one in which the award begins to the period's last day; at least one. The first holds what is dated
/// before it, too. Of a period longer than a quarter, months to come (after the last record of film and money) are left out.
std::vector<month_line> by_month(const records::season& season, const reconcile::reckoning& reckoned, const basis& on);

/// What was rejected in the quarter for one reason.
struct cause_line {
    std::string reason;
    std::int64_t bundles = 0; ///< each once, by its first rejection; they sum to rejected_bundles
    weight residue;           ///< out of weighed bales; they sum to residue_weight
};

/// By weight of number: most bundles first, then most residue, then by reason.
std::vector<cause_line> reject_causes(const records::season& season, const reconcile::reckoning& reckoned,
                                      quantity::span_of_days days);

/// What one object class was granted and has spent through the quarter's last day.
struct money_line {
    std::string category;
    bool in_budget = true;
    money grant_budget, grant_spent;          ///< spent: direct costs; for `indirect`, indirect_to_date
    money match_budget, match_given;          ///< given: costs on match and in-kind contributions
    money grant_in_quarter, match_in_quarter; ///< of spent and given, what is dated in the quarter
    [[nodiscard]] money grant_left() const { return grant_budget - grant_spent; }
};

struct money_lines {
    std::vector<money_line> lines; ///< the budget's order, then what has no line in it
    money_line unclassed;          ///< in-kind contributions and program income as match that have no object class
    /// Of the lines. Spent: grant_spent_to_date + indirect_to_date; given, with `unclassed`: match_to_date; in the
    /// quarter: grant_spent + indirect_claimed and match_given.
    money_line total;
};
money_lines money_by_category(const records::season& season, const basis& on);

} // namespace tarewell::figures
