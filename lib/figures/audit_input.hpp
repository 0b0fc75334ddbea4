#pragma once
#include "audit/pooled_model.hpp"
#include "quantity/quarter.hpp"
#include "reconcile/reckoning.hpp"

#include <optional>
#include <vector>

namespace tarewell::figures {

/// What one row of the audit weighs: a bale, a load (the bales of a shipment that share its ticket), or a bundle
/// weighed alone.
struct audit_row {
    enum class kind { bale, load, bundle };
    audit_row::kind what = kind::bale;
    records::bale_place bale;      ///< of a load, its first; of a spot weight, the bale that the bundle went into
    records::shipment_place load;  ///< of a load
    records::bundle_place bundle;  ///< of a spot weight
    quantity::day on;             ///< the day of weighing
    std::size_t ticket = 0;       ///< that weighs it: index into the season's tickets
    bool spots_taken_off = false; ///< spot weights of its bundles were taken off its net
};

/// A season as the audit sees it, with the way back to the ledger. Growers, sites and bases are those that occur, so
/// that every index of `season` is one of the vectors below.
struct audit_input {
    audit::pooled_season season;                 ///< spot weights are rows of their own, taken off their bales
    std::vector<audit::season_finding> findings; ///< of taking them off; item: index into `rows`, or -1
    std::vector<audit_row> rows;                 ///< by bale of `season`
    std::vector<records::bundle_place> bundles;   ///< by bundle of `season`
    std::vector<records::grower_place> growers;
    std::vector<records::site_place> sites; ///< where received, else registered
    std::vector<records::basis> bases;
    quantity::weight weighed;                  ///< net of the bales and loads, exactly
    quantity::weight on_hand_spot;             ///< what spot weights say of bundles still on hand
    std::vector<std::size_t> on_hand_receipts; ///< accepting receipts of what is on hand, spot-weighed or not
    std::vector<records::bundle_place> on_hand; ///< the same bundles
};

/// Bales weighed in the days (all without), and what was on hand on their last day. A spot weight counts where its
/// bundle is, if it was taken by the last day. Weights become doubles here and nowhere else. The season has an award.
audit_input audit_input_of(const records::season& season, const reconcile::reckoning& reckoned,
                           std::optional<quantity::span_of_days> days = std::nullopt);

/// A weight as the audit's double, in the award's unit, to the nearest.
double as_real(quantity::weight value);

/// The model's double in thousandths of the unit, rounded half up. Throws std::overflow_error when it has no such.
quantity::weight as_weight(double value);

/// How the program fits the model: one way for all commands and figures. The scales' divisions are left out of the
/// scatter, since they are far below it.
audit::pooled_options audit_options();

} // namespace tarewell::figures
