#pragma once
// Only for the sources of this room.
#include "ledger/entry_batch.hpp"
#include "ledger/verify.hpp"

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace tarewell::ledger {

/// A question to the ledger's database and its answer, row by row. Its parameters are ?1, ?2, ..., the answer's columns
/// are counted from 0.
class query {
  public:
    query() = default;
    virtual ~query() = default;
    query(const query&) = delete;
    query& operator=(const query&) = delete;

    virtual void bind(int index, std::int64_t value) = 0;
    /// Empty is "not given" (NULL). The text is copied.
    virtual void bind(int index, std::string_view text) = 0;
    /// False when there is no further row.
    virtual bool step() = 0;
    /// So that it may be bound and asked anew, and holds no lock.
    virtual void reset() noexcept = 0;

    /// Empty for NULL; good until the next step.
    virtual std::string_view text(int column) = 0;
    virtual std::optional<std::int64_t> number(int column) = 0;
    /// Of a column that is never NULL.
    std::int64_t whole(int column) { return number(column).value_or(0); }
    virtual digest hash(int column) = 0;
};

/// Puts entries into the journal and into the tables of their kinds. The transaction is the caller's.
class entry_inserts {
  public:
    entry_inserts() = default;
    virtual ~entry_inserts() = default;
    entry_inserts(const entry_inserts&) = delete;
    entry_inserts& operator=(const entry_inserts&) = delete;
    virtual void write(const entry_batch& of) = 0;
    /// Before the transaction is committed.
    virtual void finish() = 0;
};

/// What keeps a ledger's tables: a file of SQLite's, or a server of PostgreSQL's. All that is told of hashes, rules and
/// figures stands above it and is told once. Throws failures of its own, which `rethrow` turns into this room's.
class engine {
  public:
    engine() = default;
    virtual ~engine() = default;
    engine(const engine&) = delete;
    engine& operator=(const engine&) = delete;

    /// For an answer of few rows.
    virtual std::unique_ptr<query> prepare(const std::string& sql) = 0;
    /// For an answer of many rows, or one that is read while other statements are asked.
    virtual std::unique_ptr<query> stream(const std::string& sql) = 0;

    /// Begins a write at once: from here on nobody else writes. Waits for others up to the waiting time.
    virtual void begin_write() = 0;
    /// All that was written since `begin_write` is on the disk after; `last` is the journal's last entry now.
    virtual void commit(entry_no last, const digest& hash) = 0;
    virtual void take_back() noexcept = 0;
    /// Everything read until `end_read` is of one state. May stand inside another.
    virtual void begin_read() = 0;
    virtual void end_read() noexcept = 0;

    virtual std::unique_ptr<entry_inserts> inserts() = 0;
    /// Thousands of entries will be written in this transaction.
    virtual void expect_many() = 0;
    /// Blanks the contact details of entries.
    virtual void erase_contacts(const std::vector<entry_no>& entries) = 0;
    /// The engine's own checks: that tables, triggers and views are those of the program, and hold together.
    virtual void check_tables(std::vector<unsound>& found) = 0;

    /// Called while a failure is handled: throws it as one of this room's (records/errors.hpp), with what to do about
    /// it; what is none of the engine's goes on as it is.
    [[noreturn]] virtual void rethrow() const = 0;
};

} // namespace tarewell::ledger
