#pragma once
// Only for the sources of this room.
#include "ledger/entry_batch.hpp"
#include "ledger/indexes_aside.hpp"

#include <map>

struct sqlite3;
struct sqlite3_stmt;

namespace tarewell::ledger {

/// Puts entries into the journal and into the tables of their kinds, many rows by one statement: a statement for each
/// row costs twice as much. The transaction is the caller's. Throws SQLite::Exception.
class entry_inserts {
  public:
    explicit entry_inserts(ledger_file::implementation& into);
    ~entry_inserts();
    entry_inserts(const entry_inserts&) = delete;
    entry_inserts& operator=(const entry_inserts&) = delete;
    void write(const entry_batch& of);
    /// Before the transaction is committed.
    void put_indexes_back();

  private:
    struct finalizer {
        void operator()(sqlite3_stmt* of) const;
    };
    using statement = std::unique_ptr<sqlite3_stmt, finalizer>;
    /// A table's statements: for one row, and for as many as go together.
    struct table {
        std::string head, values; ///< "INSERT INTO t (a, b) VALUES ", "(?, ?)"
        statement one, many;
    };
    using entry = entry_batch::entry;
    class binder;

    table& table_of(kind which);
    void set_indexes_aside(kind which, std::size_t rows);
    void insert(table& into, const std::vector<const entry*>& rows, void (*bind)(binder& to, const entry& of));

    ledger_file::implementation& into_;
    sqlite3* database_;
    table journal_, contact_;
    std::map<kind, table> tables_;
    std::vector<const entry*> rows_;
    std::optional<indexes_aside> aside_; ///< of the kind that is written just now
};

} // namespace tarewell::ledger
