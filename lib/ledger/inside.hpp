#pragma once
// Only for the sources of this room: SQLiteCpp stays out of public headers.
#include "ledger/ledger.hpp"

#include <SQLiteCpp/SQLiteCpp.h>

#include <array>
#include <functional>
#include <string>
#include <unordered_map>

namespace tarewell::ledger {

struct ledger_file::implementation {
    std::string path;
    SQLite::Database database;
    bool schema_may_change = false; ///< asked by the authorizer
    bool may_erase = false;         ///< asked by the authorizer

    /// Writes what a writer of this file holds back; asked before each read.
    std::function<void()> settle_writes = [] {};

    /// Statements that are asked again and again, by their text.
    std::unordered_map<std::string, SQLite::Statement> kept;

    implementation(std::string file, int flags, int wait_milliseconds);
};

/// What the authorizer refuses is allowed while this lives.
class permission {
  public:
    explicit permission(bool& of) : of_{of} { of_ = true; }
    ~permission() { of_ = false; }
    permission(const permission&) = delete;
    permission& operator=(const permission&) = delete;

  private:
    bool& of_;
};

/// A kept statement on its way; afterwards it is reset, so that it holds no lock.
class kept_statement {
  public:
    kept_statement(ledger_file::implementation& inside, const std::string& sql)
        : statement_{inside.kept.try_emplace(sql, inside.database, sql).first->second} {}
    ~kept_statement() { statement_.tryReset(); }
    kept_statement(const kept_statement&) = delete;
    kept_statement& operator=(const kept_statement&) = delete;
    SQLite::Statement* operator->() { return &statement_; }
    SQLite::Statement& operator*() { return statement_; }

  private:
    SQLite::Statement& statement_;
};

/// A write begun at once (BEGIN IMMEDIATE) and taken back unless committed. SQLite::Transaction would
/// do, but for its destructor, which throws when there is no memory left to say that taking back failed.
class immediate_transaction {
  public:
    explicit immediate_transaction(SQLite::Database& database) : database_{database} {
        database_.exec("BEGIN IMMEDIATE");
    }
    ~immediate_transaction() {
        if (!committed_) database_.tryExec("ROLLBACK");
    }
    immediate_transaction(const immediate_transaction&) = delete;
    immediate_transaction& operator=(const immediate_transaction&) = delete;
    void commit() {
        database_.exec("COMMIT");
        committed_ = true;
    }

  private:
    SQLite::Database& database_;
    bool committed_ = false;
};

/// How long a command waits for another process, in milliseconds.
inline constexpr int waiting_time = 10'000;

/// Turns SQLite's failure into one of this room's, with what to do about it.
[[noreturn]] void rethrow(const SQLite::Exception& failure, const std::string& path);

/// Runs `body`; SQLite's failures come out as this room's.
template <class Body> auto guarded(const std::string& path, Body&& body) {
    try {
        return body();
    } catch (const SQLite::Exception& failure) {
        rethrow(failure, path);
    }
}

/// All settings of an open ledger, then the schema's missing versions.
void prepare(ledger_file::implementation& inside, bool fresh);

} // namespace tarewell::ledger
