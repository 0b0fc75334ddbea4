#pragma once
#include "context.hpp"
#include "figures/closing.hpp"
#include "figures/figure.hpp"
#include "figures/table.hpp"
#include "records/season.hpp"
#include "reconcile/reckoning.hpp"

namespace tarewell::cli {

/// What a command that shows something stands on: the season as of one sequence, reckoned.
struct season_view {
    ledger::ledger_file file;
    ledger::entry_no as_of = 0;
    ledger::season season;
    reconcile::reckoning reckoning;

    /// Throws input_error when the ledger holds no award yet.
    [[nodiscard]] const ledger::award& award() const;
};

/// Reads the ledger as of a sequence, or as it stands.
season_view view(const context& with, std::optional<ledger::entry_no> as_of = std::nullopt);

/// A quarter's report and what stands behind it. A closed quarter is shown as it was filed unless `as_of` says
/// otherwise.
struct quarter_seen {
    season_view seen;
    figures::report report;

    [[nodiscard]] ledger::journal_head head() const { return seen.file.head_at(seen.as_of); }
};
quarter_seen view_quarter(const context& with, const std::string& quarter,
                          std::optional<ledger::entry_no> as_of = std::nullopt);

/// "2026-Q3", or an input_error that says what would be right.
quantity::quarter quarter_named(const std::string& text);

} // namespace tarewell::cli
