#pragma once
#include "desk/audit_view.hpp"

namespace tarewell::desk {

// What the scale says, in sentences, tables and numbers. Every ratio is scale weight over claim; an interval holds the
// truth about 19 times in 20.

/// Whose estimates run high or low. `tolerance` is a share, 0.1 for ten percent.
answer audit_growers(const audit_view& seen, double tolerance);
/// Two kind sentences and numbers for a grower. Throws records::input_error for one who brought nothing in these days.
answer audit_letter(const audit_view& seen, const std::string& grower, double tolerance);
/// Whether a site's film runs dirty or wet.
answer audit_sites(const audit_view& seen);
/// What the program's area weight and curvature factor should be.
answer audit_constants(const audit_view& seen);
/// Weights that do not fit their bundles; beside those that stand out, the next up to `most` in all.
answer audit_bales(const audit_view& seen, int most);
/// What all that was received weighs: weighed, and on hand with an interval.
answer audit_total(const audit_view& seen);
/// Which bundles on hand to weigh alone next; `goal` is "total" or "growers".
answer audit_next(const audit_view& seen, int count, const std::string& goal);
/// Check weights, control charts, and one scale against another.
answer audit_scales(const season_view& seen, const audit_request& request);

/// Items to draw for a reviewer, repeatable from the seed, and what was found in them.
struct sample_request {
    std::string method = "attribute"; ///< or "pps", "monetary"
    std::string of = "tickets";       ///< or "bales", "bundles", "costs"
    std::string risk = "5%", tolerable = "5%";
    int size = 0; ///< 0: worked out
    std::uint64_t seed = 0;
    std::vector<std::string> found; ///< ITEM=VALUE
    std::optional<int> errors;
};
answer audit_sample(const season_view& seen, const audit_request& days, const sample_request& how);

} // namespace tarewell::desk
