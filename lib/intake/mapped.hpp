#pragma once
#include "intake/intake.hpp"
#include "intake/map_sheet.hpp"
#include "intake/sheet_map.hpp"

namespace tarewell::intake {

/// A record that a row of somebody's sheet becomes.
struct mapped_record {
    records::kind which{};
    std::size_t place = 0;           ///< of the map's record
    std::vector<std::string> values; ///< in the order of the kind's columns
    bool known = false;              ///< the ledger or an earlier row has it: nothing is made
};

/// What became of one row.
struct mapped_row {
    std::size_t line = 0;
    std::vector<mapped_record> made;
    std::vector<std::string> doubts;
    bool refused = false;
};

/// What a sheet becomes by a map.
struct mapped_sheet {
    std::string shown;
    std::vector<mapped_row> rows;
    std::vector<std::size_t> left_out; ///< lines
    std::vector<records::finding> findings;
    std::vector<std::string> notes;
};

/// Applies a map. Nothing is recorded; what the map does not say is in `findings`.
mapped_sheet apply_map(const sheet_map& map, const map_sheet& sheet, const ledger::ledger_file& to);

/// What taking in by a map did, or would do.
struct mapped_intake {
    mapped_sheet sheet;
    std::vector<file_summary> files; ///< one a kind
    std::vector<std::string> faults; ///< "FILE:LINE:COLUMN: what; what would be right"; nothing was taken in then
};

/// Takes in a file by a map: all of it under one act, or nothing. With `options.dry_run` nothing is written. What is
/// refused stands in `faults`, so that it can be shown beside what the rows become. Throws as map_named and
/// read_map_sheet.
mapped_intake take_mapped(ledger::ledger_file& to, const std::string& path, const sheet_map& map,
                          const ledger::surroundings& around, const intake_options& options = {});

} // namespace tarewell::intake
