#include "ledger/sqlite_inserts.hpp"

#include "ledger/kind_sql.hpp"
#include "ledger/written_rows.hpp"

#include <fmt/format.h>
#include <sqlite3.h>

namespace tarewell::ledger {

using namespace records; // NOLINT
namespace {

// More gain little: tests/bench/README.md.
constexpr std::size_t rows_together = 32;

// So many rows of a kind in one batch are the beginning of a file of them.
constexpr std::size_t enough_to_set_aside = 256;

constexpr std::string_view journal_marks = "(?, ?, ?, ?, ?, ?, ?, ?)";
constexpr std::string_view contact_marks = "(?, ?, ?, ?, ?, ?)";

std::string insert_of(std::string_view into, std::string_view values, std::size_t rows) {
    std::string sql = fmt::format("INSERT INTO {} VALUES ", into);
    for (std::size_t i = 0; i < rows; ++i) {
        if (i > 0) sql += ", ";
        sql += values;
    }
    return sql;
}

void must(sqlite3* database, int outcome) {
    if (outcome != SQLITE_OK) throw SQLite::Exception(database, outcome);
}

} // namespace

void sqlite_inserts::finalizer::operator()(sqlite3_stmt* of) const { sqlite3_finalize(of); }

/// Binds the values of one row after the other; the texts must live until the statement is done.
class sqlite_inserts::binder {
  public:
    binder(sqlite3* database, sqlite3_stmt* to) : database_{database}, to_{to} {}
    /// Empty is "not given".
    void text(std::string_view value) {
        must(database_, value.empty() ? sqlite3_bind_null(to_, ++at_)
                                      : sqlite3_bind_text(to_, ++at_, value.data(), static_cast<int>(value.size()),
                                                          SQLITE_STATIC));
    }
    void number(std::int64_t value) { must(database_, sqlite3_bind_int64(to_, ++at_, value)); }
    void number(const std::optional<std::int64_t>& value) {
        must(database_, value ? sqlite3_bind_int64(to_, ++at_, *value) : sqlite3_bind_null(to_, ++at_));
    }
    void blob(const digest& value) {
        must(database_, sqlite3_bind_blob(to_, ++at_, value.data(), static_cast<int>(value.size()), SQLITE_STATIC));
    }

  private:
    sqlite3* database_;
    sqlite3_stmt* to_;
    int at_ = 0;
};

sqlite_inserts::sqlite_inserts(sqlite_engine& into)
    : into_{into}, database_{into.database.getHandle()},
      journal_{std::string{written_journal}, std::string{journal_marks}, {}, {}}, contact_{std::string{written_contact},
                                                                                           std::string{contact_marks},
                                                                                           {},
                                                                                           {}} {}

sqlite_inserts::~sqlite_inserts() = default;

sqlite_inserts::table& sqlite_inserts::table_of(kind which) {
    const auto found = tables_.find(which);
    if (found != tables_.end()) return found->second;
    const auto& sql = sql_of(which);
    return tables_.emplace(which, table{sql.written, sql.written_values, {}, {}}).first->second;
}

void sqlite_inserts::finish() {
    if (aside_) aside_->put_back();
    aside_.reset();
}

void sqlite_inserts::set_indexes_aside(kind which, std::size_t rows) {
    if (aside_ && aside_->of() == which) return;
    finish();
    if (rows < enough_to_set_aside) return;
    if (into_.database.execAndGet(sql_of(which).has_any).getInt() == 0) aside_.emplace(into_, which);
}

void sqlite_inserts::insert(table& into, const std::vector<const entry*>& rows,
                            void (*bind)(binder& to, const entry& of)) {
    for (std::size_t at = 0; at < rows.size();) {
        const auto together = rows.size() - at >= rows_together ? rows_together : 1;
        auto& kept = together == 1 ? into.one : into.many;
        if (!kept) {
            const auto sql = insert_of(into.columns, into.values, together);
            sqlite3_stmt* made = nullptr;
            must(database_, sqlite3_prepare_v2(database_, sql.data(), static_cast<int>(sql.size()), &made, nullptr));
            kept.reset(made);
        }
        binder to{database_, kept.get()};
        for (const auto end = at + together; at < end; ++at)
            bind(to, *rows[at]);
        const int outcome = sqlite3_step(kept.get());
        if (outcome != SQLITE_DONE) {
            const SQLite::Exception failure{database_, outcome};
            sqlite3_reset(kept.get());
            throw failure;
        }
        must(database_, sqlite3_reset(kept.get()));
    }
}

void sqlite_inserts::write(const entry_batch& of) {
    write_in_order(
        of, rows_, [this] { insert(journal_, rows_, [](binder& to, const entry& one) { add_journal_row(to, one); }); },
        [this](kind which) {
            set_indexes_aside(which, rows_.size());
            insert(table_of(which), rows_, [](binder& to, const entry& one) { add_row(to, one); });
        },
        [this] { insert(contact_, rows_, [](binder& to, const entry& one) { add_contact(to, one); }); });
}

} // namespace tarewell::ledger
