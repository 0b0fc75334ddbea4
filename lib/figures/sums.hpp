#pragma once
#include "reconcile/reckoning.hpp"
#include "reconcile/tally.hpp"

namespace tarewell::figures {

using quantity::day;
using quantity::span_of_days;
using reconcile::tally;

/// The sums over days that the figures are made of. Each keeps the rows that it was summed from.
class sums {
  public:
    sums(const ledger::season& season, const reconcile::reckoning& reckoning) : s_{season}, r_{reckoning} {}

    /// A count of bundles and the sum of their estimates, over the same rows.
    struct bundles {
        tally count;
        tally estimate;
    };
    [[nodiscard]] bundles registered(span_of_days days) const;
    [[nodiscard]] bundles received(span_of_days days) const;
    [[nodiscard]] bundles rejected(span_of_days days) const;
    [[nodiscard]] bundles on_hand(day last) const;
    [[nodiscard]] tally baled_bundles(span_of_days days) const;
    [[nodiscard]] tally bales_made(span_of_days days) const;
    [[nodiscard]] tally bales_on_hand(day last) const;
    [[nodiscard]] tally bales_weighed(span_of_days days) const;
    [[nodiscard]] tally net_weighed(span_of_days days) const;
    [[nodiscard]] tally estimate_weighed(span_of_days days) const;
    [[nodiscard]] tally residue(span_of_days days) const;
    [[nodiscard]] tally diverted(span_of_days days) const;
    [[nodiscard]] tally shipped(span_of_days days) const;
    [[nodiscard]] tally accepted(span_of_days days) const;
    /// Net less residue of the bales weighed by a day and by then not counted as diverted: not shipped, not accepted.
    [[nodiscard]] tally weighed_not_counted(day last) const;
    [[nodiscard]] tally growers_served(span_of_days days) const;
    [[nodiscard]] tally growers_new(span_of_days days) const;
    [[nodiscard]] tally sites_active(span_of_days days) const;

  private:
    void add_bundle(bundles& to, std::size_t index, ledger::kind which, ledger::entry_no entry) const;
    [[nodiscard]] std::optional<day> shipped_on(ledger::bale_place bale) const;

    const ledger::season& s_;
    const reconcile::reckoning& r_;
};

} // namespace tarewell::figures
