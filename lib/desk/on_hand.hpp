#pragma once
#include "desk/season_view.hpp"

namespace tarewell::desk {

/// What a site holds by the paper: accepted there or hauled there since, and neither rejected since nor in a bale weighed.
struct site_on_hand {
    std::string site, name;
    std::int64_t bundles = 0;
    quantity::weight claimed;                 ///< the bundles' estimates, in the award's unit
    std::optional<quantity::weight> capacity; ///< in the award's unit; none where the site gives none

    /// Whole percents of the capacity, rounded half up; more than 100 where it is passed.
    [[nodiscard]] std::optional<std::int64_t> percent_full() const;
};

/// Every site in the order of entry, also those that hold nothing. Their bundles are the figure on_hand_bundles as of
/// the season's last day. Throws records::input_error when the ledger holds no award yet.
std::vector<site_on_hand> on_hand_by_site(const season_view& seen);

/// A weight in whole units, half up, thousands apart: "8,934".
std::string whole_text(quantity::weight of);

} // namespace tarewell::desk
