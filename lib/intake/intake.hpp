#pragma once
#include "ledger/ledger.hpp"

#include <functional>
#include <map>
#include <string>
#include <vector>

namespace tarewell::records {
struct season;
}

namespace tarewell::intake {

/// What became of one file's rows.
struct file_summary {
    std::string file;
    std::string_view kind_file; ///< "bundles"
    std::size_t rows = 0;
    std::size_t taken = 0;          ///< new rows
    std::size_t known = 0;          ///< rows that the ledger holds with equal values
    std::vector<std::string> notes; ///< known rows that were corrected, voided or erased since
    records::entry_no first = 0, last = 0;
    std::vector<std::uint32_t> lines; ///< of the file, of the entries from `first` to `last`
};

struct intake_options {
    bool dry_run = false; ///< check everything, write nothing
    /// Told the file and the bytes done of its whole, now and then.
    std::function<void(const std::string& file, std::size_t done, std::size_t whole)> progress = {};
    /// Told the season with what was taken in, before it is committed; with `dry_run` too.
    std::function<void(const records::season& with_it)> seen = {};
    std::string sheet = {}; ///< of a workbook, where it cannot be told by name or header
    /// Told in a sentence what was there and passed over: files and sheets that are none of ours, misspelt names.
    std::function<void(const std::string& sentence)> passed_over = {};
};

/// Takes in one CSV file, or a workbook's sheet, whole or not at all. Throws records::refused with every bad row,
/// io_error when the file cannot be read.
file_summary take_file(ledger::ledger_file& to, records::kind which, const std::string& path,
                       const ledger::surroundings& around, const intake_options& options = {});

/// Takes in a file by what its name or its headers say that it is: a CSV file, or all of a workbook's sheets in one
/// transaction. Throws as take_file.
std::vector<file_summary> take_tables(ledger::ledger_file& to, const std::string& path,
                                      const ledger::surroundings& around, const intake_options& options = {});

/// Takes in those of the season's files that the folder holds, as CSV or .xlsx, in their order, in one transaction.
std::vector<file_summary> take_season(ledger::ledger_file& to, const std::string& folder,
                                      const ledger::surroundings& around, const intake_options& options = {});

/// Values by column name, as given on a command line.
using named_values = std::map<std::string, std::string>;

/// What one record is held against: the records that its rules can see, or the whole season. The verdict is the same,
/// to the letter; the whole takes as long as the ledger is large, and is there to prove that.
enum class sight { neighbours, whole_season };

struct change_summary {
    std::vector<records::entry_no> entries; ///< empty: nothing changed
    std::string note;
    bool held_back = false; ///< nothing was written, since `agree` said no
};

/// Told the entries before they are committed, while the file shows them to this process alone; false holds them back.
using agreement = std::function<bool(const std::vector<records::entry_no>& entries)>;

/// Records one row. The same row again changes nothing. Throws records::refused.
/// `reason` may be empty.
change_summary record(ledger::ledger_file& to, records::kind which, const named_values& values,
                      const ledger::surroundings& around, const std::string& once = {}, const std::string& reason = {},
                      sight of = sight::neighbours, const agreement& agree = {});

/// Records one row of several; a fault of it ends the deed.
using record_one = std::function<void(records::kind which, const named_values& values)>;

/// Records rows one after another as one deed: all of them or none. `body` is called once the file is open to this
/// writer alone: what it reads (the next free id, what it recorded itself) stays so. What it throws takes all back.
/// Throws records::refused with the faults of a row, and where the ledger holds one already; one that was voided is
/// brought back.
change_summary record_all(ledger::ledger_file& to, const std::string& deed,
                          const std::function<void(const record_one&)>& body, const ledger::surroundings& around,
                          const std::string& once = {}, const std::string& reason = {});

/// Replaces values of a record by a new revision. `key` is the key's one or two parts; with one part
/// of a key of two, every row of the record is meant, and only shared columns may change. A voided
/// record comes back in force. Throws records::refused when a rule would no longer hold.
change_summary correct(ledger::ledger_file& to, records::kind which, const std::vector<std::string>& key,
                       const named_values& changes, const std::string& reason, const ledger::surroundings& around,
                       const std::string& once = {}, sight of = sight::neighbours, const agreement& agree = {});

/// Takes a record out of force; its entries stay. Throws records::refused when other records name it.
change_summary void_record(ledger::ledger_file& to, records::kind which, const std::vector<std::string>& key,
                           const std::string& reason, const ledger::surroundings& around, const std::string& once = {},
                           sight of = sight::neighbours, const agreement& agree = {});

/// Every record in force replayed through the rules: what would be refused today. Empty in a sound ledger.
std::vector<records::finding> broken_rules(const ledger::ledger_file& of);

/// The files of a season in the order of their taking in.
std::vector<records::kind> season_files();

} // namespace tarewell::intake
