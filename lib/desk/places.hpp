#pragma once
#include "desk/answer.hpp"
#include "desk/season_view.hpp"

namespace tarewell::desk {

/// A bundle that lies at a site, and since when.
struct lying_bundle {
    records::bundle_place bundle;
    quantity::day since;
    std::string reason; ///< why it is held, as written
};

/// A bale that lies at a site: not shipped by the day that is asked of.
struct lying_bale {
    records::bale_place bale;
    std::optional<quantity::weight> net;   ///< none while it is not weighed
    records::shipment_place to_be_shipped; ///< where a shipment of a later day names it
};

/// What lies at a site on a day. Rejected bundles do not count, wherever they lie.
struct site_stock {
    std::string id, name, town, host, opens, closes;
    std::vector<lying_bundle> waiting; ///< accepted and not pressed
    std::vector<lying_bundle> held;    ///< by their latest receipt neither accepted nor rejected; in no weight
    std::vector<lying_bale> bales;
    std::size_t unweighed = 0;                ///< bundles waiting or in bales without a weight
    quantity::weight claimed;                 ///< of those bundles
    quantity::weight weighed;                 ///< nets of the bales
    quantity::weight arrived;                 ///< claims of what came here in pace_days
    bool presses = false;                     ///< a bale was pressed here by the day: bundles need no haul
    std::optional<quantity::weight> capacity; ///< none where the site has none

    /// Claims and nets together, the cautious sum that is held against the capacity.
    [[nodiscard]] quantity::weight weight() const { return claimed + weighed; }
    /// On hand over capacity; 0 without one.
    [[nodiscard]] double share() const;
    /// When the capacity is reached if as much arrives a day as in the last pace_days: `on` where it is reached, none
    /// without a capacity or arrivals, or where it takes more than half a year.
    [[nodiscard]] std::optional<quantity::day> full_on(quantity::day on) const;
    /// full_on for people: "now", "2026-10-12", or, in a few words, why there is none.
    [[nodiscard]] std::string full_by(quantity::day on) const;
    /// Why that day, or why none, in a sentence; weights in whole units.
    [[nodiscard]] std::string why_full_by(quantity::day on, const std::string& unit) const;
    [[nodiscard]] std::optional<quantity::day> oldest() const;
};

/// Days over which the pace of arrivals is taken.
constexpr int pace_days = 28;

/// "1,240": whole units, since a claim is no closer than that.
std::string whole_units(quantity::weight of);

/// Every site of the ledger, in the order of entry. Hauls move bundles; a bale lies where it was pressed.
std::vector<site_stock> stock_of_sites(const season_view& seen, quantity::day on);

/// What weighed bales weighed by that day over what their bundles claimed; none before the first. Multiplied with a
/// claim it is what the scale is to be expected to say.
std::optional<double> weighed_over_claimed(const season_view& seen, quantity::day on);

/// All sites side by side.
answer sites(const season_view& seen, quantity::day on);
/// One site: who and when, what lies there, what is held and why, which bales wait for which shipment. Throws
/// records::input_error where there is no such site.
answer site_in_full(const season_view& seen, const std::string& id, quantity::day on);

} // namespace tarewell::desk
