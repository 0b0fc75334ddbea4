#pragma once
#include "audit/anova.hpp"
#include "audit/control_chart.hpp"
#include "desk/season_view.hpp"

#include <string>
#include <vector>

namespace tarewell::desk {

/// A ticket that decides no weight, against the weight that was decided without it.
struct check_weight {
    std::string ticket, scale, first_scale, subject;
    quantity::day on;
    quantity::weight first, second, tolerance; ///< tolerance: of both scales' classes together; 0 when not known
    [[nodiscard]] quantity::weight difference() const { return second - first; }
    [[nodiscard]] bool beyond() const;
};

/// A series of one scale in order of days, charted.
struct scale_chart {
    std::string scale, what;         ///< what: "check weights" or "spot weights"
    std::vector<std::string> labels; ///< tickets
    std::vector<double> values;
    audit::individuals_chart chart;
    audit::ewma_chart ewma; ///< empty where the chart is not usable
};

struct scale_pair {
    std::string first, second;
    audit::paired_difference difference; ///< second less first, in the award's unit
};

struct scale_audit {
    std::vector<check_weight> checks;
    std::vector<scale_chart> charts;
    std::vector<scale_pair> pairs;
};

/// Check weights as differences from the weight decided; spot weights as weight over claim, because no bundle is
/// weighed alone twice.
scale_audit audit_of_scales(const season_view& seen, const std::optional<quantity::span_of_days>& days);

} // namespace tarewell::desk
