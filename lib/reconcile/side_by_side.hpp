#pragma once
#include "quantity/quarter.hpp"
#include "reconcile/reckoning.hpp"

#include <optional>
#include <string>
#include <vector>

namespace tarewell::reconcile {

/// town: the grower's; structure and film: of the registration's covers.
enum class grouping { bale, grower, site, registration, town, structure, film };
std::optional<grouping> read_grouping(std::string_view text);
std::string_view name_of(grouping by);

/// How many bundles came to a stage and what they are claimed to weigh.
struct at_stage {
    std::int64_t bundles = 0;
    weight estimate;
    void add(weight claim) {
        ++bundles;
        estimate += claim;
    }
    at_stage& operator+=(const at_stage& other) {
        bundles += other.bundles;
        estimate += other.estimate;
        return *this;
    }
};

/// One bundle's part in a line.
struct bundle_part {
    bundle_place bundle;
    weight estimate;
    std::optional<weight> spot;
    std::optional<weight> share; ///< of its bale's net
};

/// Estimate, receipt, bale and scale of one bale, grower, site or registration, side by side.
struct side_by_side {
    std::string id, name;
    at_stage registered, received, rejected, baled, weighed;
    weight scale_weight;            ///< sum of the weighed bundles' shares
    std::optional<day> weighed_on;  ///< by bale
    std::vector<bundle_part> parts; ///< by bale: what is in it, by id; shares sum to its net

    /// Scale less estimate of what was weighed.
    [[nodiscard]] weight difference() const { return scale_weight - weighed.estimate; }
    /// Scale over estimate; none where the estimate is 0.
    [[nodiscard]] std::optional<double> ratio() const;
};

/// All lines, by id. With days, each stage counts what is dated in them (a bale's line stands where it was
/// made or weighed in them).
std::vector<side_by_side> reconcile_by(grouping by, const records::season& season, const reckoning& reckoned,
                                       std::optional<quantity::span_of_days> days = std::nullopt);

/// The sum of all lines.
side_by_side total_of(const std::vector<side_by_side>& lines);

} // namespace tarewell::reconcile
