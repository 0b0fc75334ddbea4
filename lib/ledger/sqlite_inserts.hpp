#pragma once
// Only for the sources of this room.
#include "ledger/indexes_aside.hpp"

#include <map>

struct sqlite3;
struct sqlite3_stmt;

namespace tarewell::ledger {

/// Many rows by one statement: a statement for each row costs twice as much. Throws SQLite::Exception.
class sqlite_inserts final : public entry_inserts {
  public:
    explicit sqlite_inserts(sqlite_engine& into);
    ~sqlite_inserts() override;
    sqlite_inserts(const sqlite_inserts&) = delete;
    sqlite_inserts& operator=(const sqlite_inserts&) = delete;
    void write(const entry_batch& of) override;
    /// Puts indexes back that were set aside.
    void finish() override;

  private:
    struct finalizer {
        void operator()(sqlite3_stmt* of) const;
    };
    using prepared = std::unique_ptr<sqlite3_stmt, finalizer>;
    /// A table's statements: for one row, and for as many as go together.
    struct table {
        std::string columns, values; ///< "t (a, b)", "(?, ?)"
        prepared one, many;
    };
    using entry = entry_batch::entry;
    class binder;

    table& table_of(kind which);
    void set_indexes_aside(kind which, std::size_t rows);
    void insert(table& into, const std::vector<const entry*>& rows, void (*bind)(binder& to, const entry& of));

    sqlite_engine& into_;
    sqlite3* database_;
    table journal_, contact_;
    std::map<kind, table> tables_;
    std::vector<const entry*> rows_;
    std::optional<indexes_aside> aside_; ///< of the kind that is written just now
};

} // namespace tarewell::ledger
