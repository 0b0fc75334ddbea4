#include "ledger/entry_inserts.hpp"

#include "ledger/kind_sql.hpp"

#include <SQLiteCpp/SQLiteCpp.h>
#include <sqlite3.h>

namespace tarewell::ledger {

using namespace records; // NOLINT
namespace {

// More gain little: tests/bench/README.md.
constexpr std::size_t rows_together = 32;

// So many rows of a kind in one batch are the beginning of a file of them.
constexpr std::size_t enough_to_set_aside = 256;

constexpr std::string_view insert_journal =
    "INSERT INTO journal (seq, act, kind, deed, replaces, effective, line, hash) VALUES ";
constexpr std::string_view journal_marks = "(?, ?, ?, ?, ?, ?, ?, ?)";
constexpr std::string_view insert_contact = "INSERT INTO contact (seq, salt, name, farm, email, phone) VALUES ";
constexpr std::string_view contact_marks = "(?, ?, ?, ?, ?, ?)";

std::string insert_of(std::string_view head, std::string_view values, std::size_t rows) {
    std::string sql{head};
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

void entry_inserts::finalizer::operator()(sqlite3_stmt* of) const { sqlite3_finalize(of); }

/// Binds the values of one row after the other; the texts must live until the statement is done.
class entry_inserts::binder {
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

entry_inserts::entry_inserts(ledger_file::implementation& into)
    : into_{into}, database_{into.database.getHandle()},
      journal_{std::string{insert_journal}, std::string{journal_marks}, {}, {}}, contact_{std::string{insert_contact},
                                                                                          std::string{contact_marks},
                                                                                          {},
                                                                                          {}} {}

entry_inserts::~entry_inserts() = default;

entry_inserts::table& entry_inserts::table_of(kind which) {
    const auto found = tables_.find(which);
    if (found != tables_.end()) return found->second;
    const auto& sql = sql_of(which);
    return tables_.emplace(which, table{sql.insert, sql.insert_values, {}, {}}).first->second;
}

void entry_inserts::put_indexes_back() {
    if (aside_) aside_->put_back();
    aside_.reset();
}

void entry_inserts::set_indexes_aside(kind which, std::size_t rows) {
    if (aside_ && aside_->of() == which) return;
    put_indexes_back();
    if (rows < enough_to_set_aside) return;
    if (into_.database.execAndGet(sql_of(which).has_any).getInt() == 0) aside_.emplace(into_, which);
}

void entry_inserts::insert(table& into, const std::vector<const entry*>& rows,
                           void (*bind)(binder& to, const entry& of)) {
    for (std::size_t at = 0; at < rows.size();) {
        const auto together = rows.size() - at >= rows_together ? rows_together : 1;
        auto& kept = together == 1 ? into.one : into.many;
        if (!kept) {
            const auto sql = insert_of(into.head, into.values, together);
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

namespace {

void add_journal_row(auto& to, const entry_batch::entry& of) {
    to.number(of.seq);
    to.number(of.act);
    to.text(info(of.values.which).name);
    to.text(name_of(of.what));
    to.number(of.replaces);
    to.text(of.effective);
    to.number(of.line);
    to.blob(of.hash);
}

void add_row(auto& to, const entry_batch::entry& of) {
    const auto& kind = info(of.values.which);
    to.number(of.seq);
    for (std::size_t i = 0; i < kind.columns.size(); ++i)
        if (!kind.columns[i].personal) to.text(of.values[i]);
    if (!of.contact_digest.empty()) to.text(of.contact_digest);
    for (std::size_t i = 0; i < kind.worked_out.size(); ++i)
        to.number(of.values.worked_out[i]);
}

void add_contact(auto& to, const entry_batch::entry& of) {
    const auto& kind = info(of.values.which);
    to.number(of.seq);
    to.text(of.salt);
    for (std::size_t i = 0; i < kind.columns.size(); ++i)
        if (kind.columns[i].personal) to.text(of.values[i]);
}

} // namespace

void entry_inserts::write(const entry_batch& of) {
    const auto& entries = of.entries();
    rows_.clear();
    for (const auto& each : entries)
        rows_.push_back(&each);
    insert(journal_, rows_, [](binder& to, const entry& one) { add_journal_row(to, one); });
    // After their journal's, which they refer to, in the order of entry.
    for (std::size_t from = 0, to = 0; from < entries.size(); from = to) {
        const auto which = entries[from].values.which;
        rows_.clear();
        for (to = from; to < entries.size() && entries[to].values.which == which; ++to)
            if (entries[to].what != deed::void_) rows_.push_back(&entries[to]);
        if (rows_.empty()) continue;
        set_indexes_aside(which, rows_.size());
        insert(table_of(which), rows_, [](binder& into, const entry& one) { add_row(into, one); });
        if (info(which).has_personal_columns())
            insert(contact_, rows_, [](binder& into, const entry& one) { add_contact(into, one); });
    }
}

} // namespace tarewell::ledger
