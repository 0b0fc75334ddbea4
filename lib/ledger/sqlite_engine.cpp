#include "ledger/sqlite_engine.hpp"

#include "ledger/sqlite_inserts.hpp"

#include <fmt/format.h>
#include <sqlite3.h>

#include <cstring>

namespace tarewell::ledger {

using namespace records; // NOLINT
namespace {

constexpr const char* erase_sql = R"sql(
UPDATE contact SET salt = NULL, name = NULL, farm = NULL, email = NULL, phone = NULL WHERE seq = ?1
)sql";

/// By SQLite itself, not by SQLiteCpp, whose columns count their references under a lock at each value.
class sqlite_query final : public query {
  public:
    sqlite_query(sqlite3* database, const std::string& sql) : database_{database} {
        must(sqlite3_prepare_v2(database, sql.data(), static_cast<int>(sql.size()), &of_, nullptr));
    }
    ~sqlite_query() override { sqlite3_finalize(of_); }
    sqlite_query(const sqlite_query&) = delete;
    sqlite_query& operator=(const sqlite_query&) = delete;

    void bind(int index, std::int64_t value) override { must(sqlite3_bind_int64(of_, index, value)); }
    void bind(int index, std::string_view text) override {
        must(text.empty() ? sqlite3_bind_null(of_, index)
                          : sqlite3_bind_text(of_, index, text.data(), static_cast<int>(text.size()),
                                              SQLITE_TRANSIENT)); // NOLINT: SQLite's own cast
    }
    bool step() override {
        const int outcome = sqlite3_step(of_);
        if (outcome != SQLITE_ROW && outcome != SQLITE_DONE) throw SQLite::Exception{database_, outcome};
        return outcome == SQLITE_ROW;
    }
    void reset() noexcept override { sqlite3_reset(of_); }

    std::string_view text(int column) override {
        // Asked in this order, since the text may be converted.
        const auto* begin = sqlite3_column_text(of_, column);
        if (begin == nullptr) return {};
        return {reinterpret_cast<const char*>(begin), static_cast<std::size_t>(sqlite3_column_bytes(of_, column))};
    }
    std::optional<std::int64_t> number(int column) override {
        if (sqlite3_column_type(of_, column) == SQLITE_NULL) return std::nullopt;
        return sqlite3_column_int64(of_, column);
    }
    digest hash(int column) override {
        digest value{};
        const void* begin = sqlite3_column_blob(of_, column);
        if (sqlite3_column_bytes(of_, column) == static_cast<int>(value.size()))
            std::memcpy(value.data(), begin, value.size());
        return value;
    }

  private:
    void must(int outcome) const {
        if (outcome != SQLITE_OK) throw SQLite::Exception{database_, outcome};
    }
    sqlite3* database_;
    sqlite3_stmt* of_ = nullptr;
};

} // namespace

sqlite_engine::sqlite_engine(std::string file, int flags)
    : path{std::move(file)}, database{path, flags, waiting_time} {}

std::unique_ptr<query> sqlite_engine::prepare(const std::string& sql) {
    return std::make_unique<sqlite_query>(database.getHandle(), sql);
}

void sqlite_engine::commit(entry_no /*last*/, const digest& /*hash*/) { database.exec("COMMIT"); }

// Not by SQLite::Transaction, whose destructor throws when there is no memory left to say that taking back failed.
void sqlite_engine::take_back() noexcept { database.tryExec("ROLLBACK"); }

void sqlite_engine::begin_read() {
    if (readers_ == 0) {
        database.exec("BEGIN");
        // The read lock is taken with the first read.
        try {
            database.execAndGet("SELECT count(*) FROM sqlite_schema");
        } catch (...) {
            database.tryExec("ROLLBACK");
            throw;
        }
    }
    ++readers_;
}

void sqlite_engine::end_read() noexcept {
    if (--readers_ == 0) database.tryExec("ROLLBACK");
}

std::unique_ptr<entry_inserts> sqlite_engine::inserts() { return std::make_unique<sqlite_inserts>(*this); }

// In KiB: a smaller one costs much more at a million rows.
void sqlite_engine::expect_many() { database.exec("PRAGMA cache_size = -262144"); }

void sqlite_engine::erase_contacts(const std::vector<entry_no>& entries) {
    const permission given{may_erase};
    const auto erase = prepare(erase_sql);
    for (const auto entry : entries) {
        erase->reset();
        erase->bind(1, entry);
        erase->step();
    }
}

void sqlite_engine::rethrow() const {
    try {
        throw;
    } catch (const SQLite::Exception& failure) {
        ledger::rethrow(failure, path);
    }
}

void rethrow(const SQLite::Exception& failure, const std::string& path) {
    constexpr int primary = 0xFF; // of an extended code such as SQLITE_IOERR_FSYNC
    switch (failure.getErrorCode() & primary) {
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
        throw busy_error(fmt::format("{} is in use by another program and stayed so for {} seconds; "
                                     "nothing was changed: try again when it is done",
                                     path, waiting_time / 1000));
    case SQLITE_NOTADB:
    case SQLITE_CORRUPT:
        throw ledger_error(fmt::format("{} is damaged ({}); keep the file as it is and restore the "
                                       "last backup beside it",
                                       path, failure.getErrorStr()));
    case SQLITE_FULL:
        throw io_error(fmt::format("the disk is full: nothing was changed in {}; make room and run "
                                   "the command again",
                                   path));
    case SQLITE_IOERR:
    case SQLITE_CANTOPEN:
    case SQLITE_READONLY:
    case SQLITE_PERM:
        throw io_error(fmt::format("{} could not be read or written ({}); check the disk and the "
                                   "permissions of the file and its folder, then run the command again",
                                   path, failure.getErrorStr()));
    case SQLITE_NOMEM:
        throw std::bad_alloc{};
    default:
        throw ledger_error(fmt::format("{}: {}", path, failure.what()));
    }
}

} // namespace tarewell::ledger
