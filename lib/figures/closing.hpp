#pragma once
#include "figures/figure.hpp"
#include "ledger/ledger.hpp"
#include "reconcile/flags.hpp"

#include <map>
#include <optional>
#include <string>
#include <vector>

namespace tarewell::figures {

/// Everything that a report of a quarter stands on, read as of one sequence.
struct quarter_view {
    records::season season;
    reconcile::reckoning reckoning;
    figures::report report;
};

/// The quarter as of a sequence. Throws records::input_error without an award.
quarter_view view_quarter(const ledger::ledger_file& file, quantity::quarter quarter, records::entry_no as_of);

/// The sequence that a quarter's report stands on: its closing's, or the journal's head.
records::entry_no as_of_quarter(const ledger::ledger_file& file, quantity::quarter quarter);

struct closing_signatures {
    std::string prepared_by, reviewed_by, certified_by;
};

/// Flags of the quarter that block its closing, less those accepted: flag code -> the reason given.
std::vector<reconcile::flag> flags_that_stop(const quarter_view& view,
                                             const std::map<std::string, std::string>& accepted);

/// Closes a quarter: writes the as-of sequence, the head's hash, every figure and who prepared, reviewed and certified.
/// `early` says why before the quarter is over by the clock of `around`. Returns the closing's entry. Throws
/// records::refused when the quarter is closed already or not over, a signature is missing, or a flag blocks it.
records::entry_no close_quarter(ledger::ledger_file& file, quantity::quarter quarter,
                                const closing_signatures& signatures,
                                const std::map<std::string, std::string>& accepted, const ledger::surroundings& around,
                                const std::string& early = {});

/// One figure that is no longer what was filed.
struct restatement {
    quantity::quarter quarter;
    std::string figure, unit, meaning;
    value filed, now;
    std::vector<ledger::journal_entry> moved_by; ///< entries since the closing
    bool exactly = true; ///< false: the entries moved what the figure stands on, not its own rows
    /// Now less filed, where both are numbers.
    [[nodiscard]] value difference() const;
};

/// A closed quarter's figures as filed against as of `as_of`; empty when nothing moved. Throws records::input_error
/// when the quarter is not closed.
std::vector<restatement> restate(const ledger::ledger_file& file, quantity::quarter quarter, records::entry_no as_of);

/// The restatements of every quarter before that of the basis, closed by its as-of: what the quarter's report carries
/// so that its to-date totals tie. The season is the file's as of that entry.
std::vector<restatement> adjustments(const ledger::ledger_file& file, const records::season& season,
                                     const reconcile::reckoning& reckoning, const basis& on);

/// The figures as a closing keeps them: "name=value" lines.
std::string filed_text(const report& of);

} // namespace tarewell::figures
