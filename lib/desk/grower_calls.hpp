#pragma once
#include "desk/audit_view.hpp"

#include <string>
#include <vector>

namespace tarewell::desk {

/// A grower as the audit sees them, ready to show.
struct grower_line {
    audit::grower_ratio ratio;
    std::string id;
    quantity::weight claim;       ///< of all their bundles in the audit, exactly
    quantity::weight scale_share; ///< their shares of the scale weight, exactly
    audit::grower_call call = audit::grower_call::cannot_tell;
    std::vector<std::string> with; ///< whom they can't be told apart from
    std::string reason;            ///< why there is no ratio or no call
};

struct grower_lines {
    std::vector<grower_line> lines; ///< by id
    audit::grower_report report;
    int called = 0;                    ///< growers and groups; `unknown` is never called
    double expected_false_share = 0.0; ///< among those called
};

grower_lines lines_of_growers(const audit_view& seen, double tolerance);

/// {"mu","mu_by_basis","sd_grower","sd_site","sd_bundle","reml","n"} and what goes with it; null where nothing is
/// fitted.
value fit_of(const audit_view& seen);

/// "constant 0.71, thickness 0.98": weight over claim by basis; empty when nothing is fitted.
std::string means_in_words(const audit_view& seen);

} // namespace tarewell::desk
