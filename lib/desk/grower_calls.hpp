#pragma once
#include "desk/audit_view.hpp"
#include "figures/fair_audit.hpp"

#include <string>
#include <vector>

namespace tarewell::desk {

/// A grower as the audit sees them, ready to show.
struct grower_line {
    std::string id;
    int bundles = 0, weighed_bundles = 0;
    quantity::weight claim;       ///< of all their bundles in the audit, exactly
    quantity::weight scale_share; ///< their shares of the scale weight, exactly
    audit::fair_grower fair;
    bool has_ratio = false;
    audit::fair_call call = audit::fair_call::never_weighed;
    std::vector<std::string> with; ///< whom they can't be told apart from
    std::string note;              ///< what the call says, or what is waited for

    [[nodiscard]] bool called() const {
        return call == audit::fair_call::runs_high || call == audit::fair_call::runs_low;
    }
    [[nodiscard]] double p_outside() const { return fair.p_runs_high + fair.p_runs_low; }
};

/// Growers that can't be told apart are called together or not at all.
struct grower_group {
    std::vector<std::string> growers; ///< ascending
    bool always_proportional = false; ///< else their ratios move against each other
};

struct grower_lines {
    std::vector<grower_line> lines; ///< by id
    figures::fair_audit fair;
    std::vector<figures::audit_check> checks;
    std::vector<grower_group> groups;
    int called = 0;
    double expected_false_share = 0.0; ///< among those called
};

grower_lines lines_of_growers(const audit_view& seen, double tolerance);

/// {"tickets","registrations","probability","sentence"} of each.
value checks_for_machines(const std::vector<figures::audit_check>& checks);

/// The pooled model's fit, "mu" to "reml", and what goes with it; null where nothing is fitted.
value fit_of(const audit_view& seen);

/// "constant, high tunnel 0.71; thickness, greenhouse 0.98": weight over claim by class of cover, where three growers
/// or more share one.
std::string means_in_words(const figures::fair_audit& fair);

/// Why no ratio is given at all; empty where there are some.
std::string why_nothing_is_said(const audit_view& seen, const grower_lines& growers);

/// What is to be checked first, as a list; nothing where there is nothing.
void say_checks(answer& to, const std::vector<figures::audit_check>& checks);

/// What makes the reading rough, such as that a large season is judged by its best world alone; else empty.
std::string roughness_in_words(const figures::fair_audit& fair);

} // namespace tarewell::desk
