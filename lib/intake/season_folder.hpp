#pragma once
#include "records/kinds.hpp"

#include <string>
#include <utility>
#include <vector>

namespace tarewell::intake {

/// What a season's folder holds: its files in the order of taking in, and in sentences what else is there.
struct season_folder {
    std::vector<std::pair<records::kind, std::string>> files; ///< paths
    std::vector<std::string> passed_over; ///< "tickts.csv is passed over; did you mean tickets.csv?"
};
/// Throws input_error where a kind's file is there both as CSV and as a workbook.
season_folder files_of_season(const std::string& folder);

} // namespace tarewell::intake
