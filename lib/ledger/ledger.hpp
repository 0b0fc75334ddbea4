#pragma once
#include "ledger/sha256.hpp"
#include "records/errors.hpp"
#include "records/kinds.hpp"

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace tarewell::ledger {

using records::entry_no;
using records::kind;
using records::row;

/// What the world outside tells the library: it never asks the time or draws lots itself.
struct surroundings {
    std::function<std::string()> now;    ///< UTC, "2026-05-14T09:30:00Z"
    std::function<std::string()> random; ///< 32 hex digits, new each time; salts contact details
    std::string who;                     ///< who makes the entries
};

/// One deed of one person at one moment; its facts are the entries written under it.
struct act {
    std::string command;
    std::string reason = {};
    std::string once = {}; ///< idempotency key, or empty
    std::string source = {};
    std::string source_sha256 = {};
};

struct stored_row {
    entry_no entry = 0;
    row values; ///< views, good until the callback returns
};

struct journal_head {
    entry_no seq = 0;
    digest hash{};
    std::string at; ///< when the head's act was; empty in an empty ledger
};

enum class deed { record, correct, void_, erase };
std::string_view name_of(deed what);

struct journal_entry {
    entry_no seq = 0;
    std::int64_t act = 0;
    std::string at, who, command, reason, source;
    std::string kind, deed, effective, hash;
    std::optional<entry_no> replaces;
    std::optional<std::int64_t> line;
};

/// An open ledger: one SQLite file with every setting that keeps it safe. Not for use by several
/// threads at once; several processes may hold the same file open.
class ledger_file {
  public:
    /// Makes an empty ledger. Throws input_error when the file is there already, io_error when it
    /// cannot be written.
    static ledger_file create(const std::string& path);
    /// Opens one that is there. Throws input_error when there is none, ledger_error when the file is
    /// not a ledger, is newer than this program, or is damaged; busy_error past the waiting time.
    static ledger_file open(const std::string& path);
    ~ledger_file();
    ledger_file(ledger_file&&) noexcept;
    ledger_file& operator=(ledger_file&&) noexcept;

    [[nodiscard]] const std::string& path() const;
    [[nodiscard]] journal_head head() const;
    /// The head as it stood at `seq`; throws input_error for a sequence past the journal's end.
    [[nodiscard]] journal_head head_at(entry_no seq) const;

    /// Calls `each` for every record of a kind in force as of `seq`, in order of entry.
    void for_each(kind which, entry_no seq, const std::function<void(const stored_row&)>& each) const;
    /// The row of one entry, in force or not; false when the kind's table has none.
    bool with_entry(kind which, entry_no entry, const std::function<void(const stored_row&)>& each) const;
    /// Calls `each` for the records of a kind whose column holds a text: those in force as of `seq`, or with `ever` all
    /// up to it, in order of entry.
    enum class which_rows { in_force, ever };
    void for_each_with(kind which, std::string_view column, std::string_view text, entry_no seq,
                       const std::function<void(const stored_row&)>& each,
                       which_rows rows = which_rows::in_force) const;
    /// The entry that replaces one, and whether that voids it; none while it is in force.
    struct replacement {
        entry_no by;
        bool voids;
    };
    [[nodiscard]] std::optional<replacement> replaced_by(entry_no entry) const;
    /// The first entry of a line of corrections: it gives the record its place in the order of entry.
    [[nodiscard]] entry_no first_of(entry_no entry) const;
    /// The days on which entries were made by `seq`: the first entry of each, as "2026-05-14", in order of entry.
    [[nodiscard]] std::vector<std::pair<entry_no, std::string>> days_of_entry(entry_no seq) const;
    /// Every (entry, entry that replaces it) made by `seq`, in order of the replacing entry.
    [[nodiscard]] std::vector<std::pair<entry_no, entry_no>> replacements(entry_no seq) const;
    /// Voids in force as of `seq`: the voiding entry, the kind's name, the entry that it voids.
    struct voided {
        entry_no entry;
        std::string kind;
        entry_no replaces;
    };
    [[nodiscard]] std::vector<voided> voids(entry_no seq) const;
    void for_each_journal_entry(entry_no from, entry_no to,
                                const std::function<void(const journal_entry&)>& each) const;
    /// The act that carried an idempotency key, as its first and last entry.
    [[nodiscard]] std::optional<std::pair<entry_no, entry_no>> done_before(const std::string& once) const;

    struct implementation;

    /// A read that sees one state of the file throughout; the ledger may be moved meanwhile.
    class snapshot {
      public:
        explicit snapshot(const ledger_file& of);
        ~snapshot();
        snapshot(const snapshot&) = delete;
        snapshot& operator=(const snapshot&) = delete;

      private:
        implementation& of_;
    };
    [[nodiscard]] implementation& inside() const { return *inside_; }

  private:
    explicit ledger_file(std::unique_ptr<implementation> inside);
    std::unique_ptr<implementation> inside_;
};

/// One transaction, begun at once (BEGIN IMMEDIATE) and taken back unless committed. Nothing of it
/// is seen by others before commit returns, and all of it is on the disk after.
class writer {
  public:
    /// Throws busy_error when another process keeps writing past the waiting time.
    writer(ledger_file& to, const surroundings& around);
    ~writer();
    writer(const writer&) = delete;
    writer& operator=(const writer&) = delete;

    /// The entries that follow belong to this act. It is written with its first entry.
    void begin(act what);
    /// Appends one record. `replaces` names the entry that it corrects.
    entry_no append(const row& record, deed what = deed::record, std::optional<entry_no> replaces = std::nullopt,
                    std::optional<std::int64_t> line = std::nullopt);
    /// Voids the record of an entry: a journal entry without a row.
    entry_no append_void(kind which, entry_no replaces);
    /// Blanks the contact details of entries, whose digests stay; the act's own entry says so.
    void forget(const std::vector<entry_no>& entries);
    void commit();

  private:
    struct implementation;
    std::unique_ptr<implementation> inside_;
};

} // namespace tarewell::ledger
