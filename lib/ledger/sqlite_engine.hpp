#pragma once
// Only for the sources of this room that are SQLite's side of the seam: SQLiteCpp stays out of public headers.
#include "ledger/inside.hpp"

#include <SQLiteCpp/SQLiteCpp.h>

namespace tarewell::ledger {

/// The ledger as one SQLite file with every setting that keeps it safe.
struct sqlite_engine final : engine {
    std::string path;
    SQLite::Database database;
    bool schema_may_change = false; ///< asked by the authorizer
    bool may_erase = false;         ///< asked by the authorizer

    sqlite_engine(std::string file, int flags);

    std::unique_ptr<query> prepare(const std::string& sql) override;
    std::unique_ptr<query> stream(const std::string& sql) override { return prepare(sql); }
    void begin_write() override { database.exec("BEGIN IMMEDIATE"); }
    void commit(entry_no last, const digest& hash) override;
    void take_back() noexcept override;
    void begin_read() override;
    void end_read() noexcept override;
    std::unique_ptr<entry_inserts> inserts() override;
    void expect_many() override;
    void erase_contacts(const std::vector<entry_no>& entries) override;
    void check_tables(std::vector<unsound>& found) override;
    [[noreturn]] void rethrow() const override;

    /// An empty ledger, or the one that is there: ledger_file::create and open say what they throw.
    static std::unique_ptr<engine> create(const std::string& path);
    static std::unique_ptr<engine> open(const std::string& path);

  private:
    int readers_ = 0; ///< reads of one state that are under way, one inside the other
};

/// The database of a ledger that is a file; throws std::bad_cast for another.
inline SQLite::Database& database_of(const ledger_file& of) {
    return dynamic_cast<sqlite_engine&>(*of.inside().store).database;
}

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

/// Turns SQLite's failure into one of this room's, with what to do about it.
[[noreturn]] void rethrow(const SQLite::Exception& failure, const std::string& path);

/// Runs `body`; SQLite's failures come out as this room's.
template <class Body> auto guarded_file(const std::string& path, Body&& body) {
    try {
        return body();
    } catch (const SQLite::Exception& failure) {
        rethrow(failure, path);
    }
}

} // namespace tarewell::ledger
