#pragma once
#include "figures/flags.hpp"
#include "intake/intake.hpp"
#include "ledger/ledger.hpp"

namespace tarewell::desk {

/// What a record was understood as, and what it raises at once.
struct echo {
    struct doubt {
        reconcile::flag_level level{};
        std::string sentence;
    };
    std::vector<std::string> understood; ///< a line a record
    std::vector<doubt> doubts;           ///< what blocks closing first
    std::vector<std::string> filed;      ///< closed quarters whose filed report does not have it

    [[nodiscard]] bool blocks() const;
    /// The doubts and closed quarters, a line each, as they are told on stderr.
    [[nodiscard]] std::string text() const;
};

/// A file taken into a larger ledger does not tell at once what it raises: `tarewell flags` does. 10,000 bundles are
/// about 35,000 entries.
constexpr records::entry_no most_entries_told_at_once = 100'000;
/// A larger ledger is not read whole for one record.
constexpr records::entry_no most_entries_read_for_one = 10'000;

/// Of entries just written, committed or not, of one kind. Of a small ledger the season is read; else the paper around
/// them (near_paper.hpp), and a ticket's net is held against those of the latest bales.
echo echo_of(const ledger::ledger_file& file, records::kind which, const std::vector<records::entry_no>& entries);
/// The same by the paper around them, whatever the ledger's size; a ticket's net is held against those of the latest bales.
constexpr std::int64_t most_bales_asked = 12;
echo echo_of_near(const ledger::ledger_file& file, records::kind which, const std::vector<records::entry_no>& entries,
                  std::int64_t bales = most_bales_asked);

/// The same where the season that holds them is at hand.
echo echo_of(const ledger::ledger_file& file, const records::season& with_them, const reconcile::reckoning& reckoned,
             records::kind which, const std::vector<records::entry_no>& entries);

/// Closed quarters whose filed report does not have these entries: "2026-Q2 was closed by entry 812: ...". The season
/// holds their paper.
std::vector<std::string> filed_without(const ledger::ledger_file& file, const records::season& season,
                                       const std::vector<records::entry_no>& entries);

/// The same of entries of several kinds, where no season is at hand.
std::vector<std::string> filed_without(const ledger::ledger_file& file, const std::vector<records::entry_no>& entries);

/// What the rows of an intake raise: counts by level and a line for each flag, or one for a kind of flag that repeats
/// with its rows. Empty where nothing is raised. `first_new` is the first entry of the intake.
std::string raised_by_intake(const std::vector<reconcile::flag>& flags, records::entry_no first_new,
                             const std::vector<intake::file_summary>& files);

} // namespace tarewell::desk
