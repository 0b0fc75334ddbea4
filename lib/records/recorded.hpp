#pragma once
#include "estimate/cover.hpp"
#include "quantity/day.hpp"
#include "quantity/decimal.hpp"
#include "quantity/money.hpp"
#include "quantity/period.hpp"
#include "quantity/strong.hpp"
#include "quantity/weight.hpp"
#include "records/kinds.hpp"

#include <optional>
#include <string>
#include <vector>

namespace tarewell::records {

using quantity::day;
using quantity::decimal;
using quantity::money;
using quantity::weight;
using quantity::weight_unit;

// Each kind of record has its own id and its own place in the season's vectors.
using site_id = quantity::id<struct site_tag>;
using grower_id = quantity::id<struct grower_tag>;
using scale_id = quantity::id<struct scale_tag>;
using registration_id = quantity::id<struct registration_tag>;
using bundle_id = quantity::id<struct bundle_tag>;
using bale_id = quantity::id<struct bale_tag>;
using shipment_id = quantity::id<struct shipment_tag>;
using site_place = quantity::place<struct site_tag>;
using grower_place = quantity::place<struct grower_tag>;
using scale_place = quantity::place<struct scale_tag>;
using registration_place = quantity::place<struct registration_tag>;
using bundle_place = quantity::place<struct bundle_tag>;
using bale_place = quantity::place<struct bale_tag>;
using shipment_place = quantity::place<struct shipment_tag>;

/// The kind whose records stand at such a place.
template <class Tag> inline constexpr kind kind_at = kind::award;
template <> inline constexpr kind kind_at<site_tag> = kind::site;
template <> inline constexpr kind kind_at<grower_tag> = kind::grower;
template <> inline constexpr kind kind_at<scale_tag> = kind::scale;
template <> inline constexpr kind kind_at<registration_tag> = kind::cover;
template <> inline constexpr kind kind_at<bundle_tag> = kind::bundle;
template <> inline constexpr kind kind_at<bale_tag> = kind::bale;
template <> inline constexpr kind kind_at<shipment_tag> = kind::shipment;

enum class fund { grant, match };

// Words that several kinds use, in the order of their enumerations.
inline constexpr std::string_view unit_words[] = {"lb", "kg"};
inline constexpr std::string_view fund_words[] = {"grant", "match"};
inline constexpr std::string_view base_words[] = {"total", "grant"};
inline constexpr std::string_view inkind_words[] = {"hours", "miles", "donated_use", "donated_goods"};
/// The object classes of SF-424A line 6 and the indirect line.
inline constexpr std::string_view category_words[] = {"personnel",   "fringe",       "travel", "equipment", "supplies",
                                                      "contractual", "construction", "other",  "indirect"};

/// What a cost or contribution is for: a step of the film's way, or the program's own running.
inline constexpr std::string_view purpose_words[] = {"collect", "bale", "haul", "process", "run"};

} // namespace tarewell::records
