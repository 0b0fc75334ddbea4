#pragma once
#include "figures/audit_input.hpp"
#include "figures/figure.hpp"

#include <string>

namespace tarewell::figures {

/// The weight of what is on hand: of bundles weighed alone as weighed, of all others as the model expects it.
struct on_hand_weight {
    double weighed_alone = 0;
    audit::total_weight model;
    [[nodiscard]] bool predicted() const { return model.predicted; }
    [[nodiscard]] double expected() const { return weighed_alone + model.on_hand_expected; }
    [[nodiscard]] double low() const { return weighed_alone + model.on_hand_low; }
    [[nodiscard]] double high() const { return weighed_alone + model.on_hand_high; }
};
on_hand_weight on_hand_weight_of(const audit_input& input, const audit::pooled_model& model);

/// True when ratios and intervals can be given.
bool is_fitted(const audit::pooled_model& model);
/// Why they can't, as a sentence; empty when they can.
std::string why_not_fitted(const audit::pooled_model& model);

/// What a report fits in passing, in a second or so; above it leaves its statistics to `tarewell audit total`.
struct statistics_limits {
    std::size_t bundles = 20'000;
    double work = 1e7; ///< multiplications of one factor: how much growers are mixed
};

/// Adds on_hand_expected, on_hand_low and on_hand_high: what is on hand on the last day, from all bales weighed by
/// then. They are statistics: no closing files them, no restatement looks at them, and no second sum works them out. The report is one of figures_of() for the same season.
void add_statistics(report& to, const ledger::season& season, const reconcile::reckoning& reckoned,
                    const statistics_limits& limits = {});

} // namespace tarewell::figures
