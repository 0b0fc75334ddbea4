#pragma once
#include "figures/figure.hpp"

#include <optional>
#include <string>
#include <vector>

namespace tarewell::figures {

/// How far the award is toward its goal, and what the rest asks for. Tons of 2,000 lb.
struct pace {
    /// The period's last day, or the last that the ledger can tell of where that comes sooner: the day of the entry
    /// that the report stands on, or a later one that a row is dated on.
    quantity::day through;
    int days_gone = 0, days_in_all = 0; ///< of the award, as amended by then; both of its end days count
    real elapsed_share = 0;             ///< 0 to 1
    real goal = 0, to_date = 0;
    real left = 0;                        ///< 0 once the goal is reached
    int quarters_left = 0;                ///< of the award that end after `through`
    std::optional<real> needed_a_quarter; ///< left over quarters_left; none where no quarter is left
    std::optional<real> so_far_a_quarter; ///< by the days gone; none before the award begins
    std::optional<real> at_this_pace;     ///< tons by the award's end, if each day brought what the days gone did
};
pace pace_of(const records::season& season, const reconcile::reckoning& reckoned, const report& of);

/// What a number of tons stands for. Every one names where its factor is from; none is made up.
struct equivalent {
    std::string what;
    figures::value value;
    std::string unit, source, caution;
};
struct equivalents {
    std::vector<equivalent> shown;
    std::vector<std::string> left_out; ///< what is not shown, and the setting that would show it
};
/// Of the tons diverted in the period, by the settings in force on its last day.
equivalents equivalents_of(const records::season& season, const report& of);

} // namespace tarewell::figures
