#pragma once
#include "figures/closing.hpp"
#include "figures/table.hpp"
#include "reconcile/reckoning.hpp"
#include "records/season.hpp"

#include <optional>

namespace tarewell::desk {

using records::entry_no;

/// A ledger that is only looked at, as it stood when it was opened: entries are never changed, so what is read as of
/// `head` or before is of one state, whatever others write meanwhile, and nobody has to wait for a long answer.
struct looked_at {
    explicit looked_at(ledger::ledger_file of) : file{std::move(of)}, head{file.head()} {}
    /// The sequence asked for, or the head's. Throws records::input_error past the journal's end.
    [[nodiscard]] entry_no upto(std::optional<entry_no> as_of) const {
        return as_of ? file.head_at(*as_of).seq : head.seq;
    }

    ledger::ledger_file file;
    ledger::journal_head head;
};

/// What an answer stands on: the season as of one sequence, reckoned.
struct season_view : looked_at {
    /// As of a sequence, or as the ledger stands.
    explicit season_view(ledger::ledger_file of, std::optional<entry_no> as_of = std::nullopt);
    season_view(looked_at at, entry_no upto, records::season of, reconcile::reckoning reckoned)
        : looked_at{std::move(at)}, as_of{upto}, season{std::move(of)}, reckoning{std::move(reckoned)} {}

    entry_no as_of;
    records::season season;
    reconcile::reckoning reckoning;

    /// Throws input_error when the ledger holds no award yet.
    [[nodiscard]] const records::award& award() const;
    [[nodiscard]] std::string unit() const { return std::string{quantity::name_of(award().unit)}; }
};

/// The report of a quarter or of another period, with its statistics and what stands behind it. A closed one is shown
/// as it was filed unless `as_of` says otherwise.
struct quarter_seen {
    season_view seen;
    figures::report report;

    [[nodiscard]] ledger::journal_head as_of_head() const { return seen.file.head_at(seen.as_of); }
    /// What changed in quarters closed before.
    [[nodiscard]] std::vector<figures::restatement> adjusted() const;
};
quarter_seen view_quarter(ledger::ledger_file of, const std::string& quarter,
                          std::optional<entry_no> as_of = std::nullopt);

/// "2026-Q3", or an input_error that says what would be right.
quantity::quarter quarter_named(const std::string& text);
/// The same of any period: quantity::read_period.
quantity::period period_named(const std::string& text);

} // namespace tarewell::desk
