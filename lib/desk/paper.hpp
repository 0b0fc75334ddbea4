#pragma once
#include "desk/season_view.hpp"
#include "desk/value.hpp"

#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

namespace tarewell::desk {

using quantity::day;

/// What is printed, before it has a look.
struct paper {
    std::string sheet; ///< "check_in": its template is paper_check_in.mustache
    std::string title;
    /// A page, or pages that belong together, each: fields by name, and "rows" with the "id" to type or scan back.
    value::values pages;
    /// Columns of the same rows as data: fields of the row, or else of its page.
    std::vector<std::string> columns;
    [[nodiscard]] std::size_t rows() const;
};

/// What a sheet is about; what is empty narrows nothing.
struct paper_wanted {
    day on;               ///< the day it is printed for
    std::string site, to; ///< ids
    std::string grower;
    std::vector<std::string> registrations, bundles, bales;
    std::optional<day> since;
    std::optional<std::size_t> blank_rows; ///< lines for what nobody expected, or for a sheet by hand
    std::optional<std::size_t> next_bales; ///< bales still to be pressed, by the ids that they will have
    std::set<std::string> printed_before;  ///< bundles whose labels are left out unless they are named
};

// Each throws records::input_error, with what to do, where there is nothing to print.

/// A label for each bundle named, or each that nobody has received and no label was printed for.
paper bundle_labels(const season_view& seen, const paper_wanted& wanted);
/// A tag for each bale named, for the next ones, or for each bale not weighed.
paper bale_tags(const season_view& seen, const paper_wanted& wanted);
/// For a site's hosts: the bundles expected there.
paper check_in_sheet(const season_view& seen, const paper_wanted& wanted);
/// For a driver: the bundles on a site.
paper haul_sheet(const season_view& seen, const paper_wanted& wanted);
/// For the baler's crew: the bundles on its site, with a box for each bale that they may go into.
paper baler_sheet(const season_view& seen, const paper_wanted& wanted);
/// For the scale: bales without a weight. What they claim is left out, so that nobody reads the scale by it.
paper scale_log(const season_view& seen, const paper_wanted& wanted);
paper hours_sheet(const season_view& seen, const paper_wanted& wanted);
paper mileage_sheet(const season_view& seen, const paper_wanted& wanted);
/// To growers whose bundles were rejected since a day (14 days before `on`): why, and what to do next.
paper rejection_notices(const season_view& seen, const paper_wanted& wanted);
/// What waits where, against each site's capacity, the fullest site first.
paper pick_up_list(const season_view& seen, const paper_wanted& wanted);

/// A sheet's bundles or bales in its printed order, as values by column for entering them one after another: those
/// expected at a site ("receipts"), on it ("hauls"), not weighed ("tickets"). Empty for other kinds.
std::vector<std::map<std::string, std::string>> rows_to_enter(const season_view& seen, records::kind which,
                                                              const paper_wanted& wanted);

} // namespace tarewell::desk
