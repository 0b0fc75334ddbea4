#pragma once
#include "figures/figure.hpp"
#include "ledger/ledger.hpp"
#include "reconcile/flags.hpp"

#include <map>
#include <optional>
#include <string>
#include <vector>

namespace tarewell::figures {

/// Everything that a period's report stands on, read as of one sequence.
struct period_view {
    records::season season;
    reconcile::reckoning reckoning;
    figures::report report;
};

/// The period as of a sequence. Throws records::input_error without an award.
period_view view_period(const ledger::ledger_file& file, const quantity::period& period, records::entry_no as_of);

/// The sequence that a period's report stands on: its closing's, or the journal's head.
records::entry_no as_of_period(const ledger::ledger_file& file, const quantity::period& period);

struct closing_signatures {
    std::string prepared_by, reviewed_by, certified_by;
};

/// Flags of the period that block its closing, less those accepted: flag code -> the reason given.
std::vector<reconcile::flag> flags_that_stop(const period_view& view,
                                             const std::map<std::string, std::string>& accepted);

/// What a closing is made over, and why: flag code -> reason, why before the period is over by the clock, and why while
/// quarters of a year or of the award are open.
struct closing_reasons {
    std::map<std::string, std::string> accepted = {};
    std::string early = {}, over_open = {};
};

/// Closes a quarter, a year or the whole award: writes the as-of sequence, the head's hash, every figure and who
/// prepared, reviewed and certified. Returns the closing's entry. Throws records::refused for a span, when the period
/// is closed already or not over, a signature is missing, a flag blocks it, or quarters of it are open.
records::entry_no close_period(ledger::ledger_file& file, const quantity::period& period,
                               const closing_signatures& signatures, const closing_reasons& over,
                               const ledger::surroundings& around);

/// The quarters of a period by the award's calendar that overlap both its days and the award's.
std::vector<quantity::quarter> quarters_of(const records::season& season, quantity::span_of_days days);

/// One figure that is no longer what was filed.
struct restatement {
    quantity::period period;
    std::string figure, unit, meaning;
    value filed, now;
    std::vector<ledger::journal_entry> moved_by; ///< entries since the closing
    bool exactly = true; ///< false: the entries moved what the figure stands on, not its own rows
    /// Now less filed, where both are numbers.
    [[nodiscard]] value difference() const;
};

/// A closed period's figures as filed against as of `as_of`; empty when nothing moved. Throws records::input_error
/// when the period is not closed.
std::vector<restatement> restate(const ledger::ledger_file& file, const quantity::period& period,
                                 records::entry_no as_of);

/// What a report carries so that its totals tie: the restatements of every quarter before a quarter's, or, of another
/// period, of every quarter that ends in it or before and of every year before, closed by its as-of. The season is the
/// file's as of that entry.
std::vector<restatement> adjustments(const ledger::ledger_file& file, const records::season& season,
                                     const reconcile::reckoning& reckoning, const basis& on);

/// The figures as a closing keeps them: "name=value" lines.
std::string filed_text(const report& of);

} // namespace tarewell::figures
