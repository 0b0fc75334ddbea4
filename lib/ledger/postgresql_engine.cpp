#include "ledger/postgresql_engine.hpp"

#include <fmt/format.h>

#include <atomic>
#include <chrono>
#include <thread>

namespace tarewell::ledger {

using namespace records; // NOLINT
namespace {

constexpr const char* take_turn_sql = "SELECT turn FROM turn FOR UPDATE";
constexpr const char* is_in_journal_sql = "SELECT hash FROM journal WHERE seq = $1";
constexpr const char* erase_sql =
    "UPDATE contact SET salt = NULL, name = NULL, farm = NULL, email = NULL, phone = NULL WHERE seq = $1";
constexpr int rows_a_portion = 2000;

/// "?1" is "$1" there. No text of ours holds another question mark.
std::string with_dollars(std::string sql) {
    for (auto& each : sql)
        if (each == '?') each = '$';
    return sql;
}

/// Asked when the first row is wanted: whole, or as a cursor in portions so that a season need not fit in memory.
class postgresql_query final : public query {
  public:
    postgresql_query(postgresql_engine& in, const std::string& sql, bool streams)
        : in_{in}, sql_{with_dollars(sql)}, streams_{streams} {}
    ~postgresql_query() override { done(); }
    postgresql_query(const postgresql_query&) = delete;
    postgresql_query& operator=(const postgresql_query&) = delete;

    void bind(int index, std::int64_t value) override { put(index, std::to_string(value)); }
    void bind(int index, std::string_view text) override {
        if (text.empty())
            put(index, std::nullopt);
        else
            put(index, std::string{text});
    }
    bool step() override {
        if (ended_) return false;
        if (!asked_) ask();
        ++at_;
        if (at_ == rows_.count() && has_cursor_ && rows_.count() == rows_a_portion) fetch();
        ended_ = at_ >= rows_.count();
        if (ended_) close();
        return !ended_;
    }
    void reset() noexcept override { done(); }

    std::string_view text(int column) override { return rows_.text(at_, column); }
    std::optional<std::int64_t> number(int column) override { return rows_.number(at_, column); }
    digest hash(int column) override { return rows_.hash(at_, column); }

  private:
    void put(int index, std::optional<std::string> value) {
        if (values_.size() < static_cast<std::size_t>(index)) values_.resize(static_cast<std::size_t>(index));
        values_[static_cast<std::size_t>(index) - 1] = std::move(value);
    }
    void ask() {
        asked_ = true;
        at_ = -1;
        if (!streams_) {
            rows_ = in_.connection.run_prepared(sql_, values_);
            return;
        }
        in_.begin_read();
        has_cursor_ = true;
        static std::atomic<unsigned> made = 0;
        name_ = fmt::format("c{}", ++made);
        in_.connection.run_with(fmt::format("DECLARE {} NO SCROLL CURSOR FOR {}", name_, sql_), values_);
        is_declared_ = true;
        fetch();
        at_ = -1;
    }
    void fetch() {
        rows_ = in_.connection.run(fmt::format("FETCH FORWARD {} FROM {}", rows_a_portion, name_));
        at_ = 0;
    }
    void close() noexcept {
        if (is_declared_) in_.connection.try_run(("CLOSE " + name_).c_str());
        is_declared_ = false;
        if (has_cursor_) in_.end_read();
        has_cursor_ = false;
    }
    void done() noexcept {
        close();
        rows_ = {};
        at_ = -1;
        asked_ = ended_ = false;
    }

    postgresql_engine& in_;
    std::string sql_, name_;
    postgresql_connection::values values_;
    bool streams_, asked_ = false, ended_ = false;
    bool has_cursor_ = false;  ///< and a read of one state under way with it
    bool is_declared_ = false; ///< the server has the cursor
    postgresql_rows rows_;
    int at_ = -1;
};

} // namespace

std::unique_ptr<query> postgresql_engine::prepare(const std::string& sql) {
    return std::make_unique<postgresql_query>(*this, sql, false);
}

std::unique_ptr<query> postgresql_engine::stream(const std::string& sql) {
    return std::make_unique<postgresql_query>(*this, sql, true);
}

void postgresql_engine::begin(const char* how) {
    connection.run(how);
    connection.in_transaction = true;
    depth_ = 1;
}

void postgresql_engine::begin_write() {
    // READ COMMITTED, so that what others committed while this one waited for its turn is seen.
    begin("BEGIN ISOLATION LEVEL READ COMMITTED READ WRITE");
    try {
        connection.run(take_turn_sql);
    } catch (...) {
        take_back();
        throw;
    }
}

void postgresql_engine::take_back() noexcept {
    connection.try_run("ROLLBACK");
    connection.in_transaction = false;
    depth_ = 0;
}

void postgresql_engine::begin_read() {
    if (depth_ > 0)
        ++depth_;
    else
        begin("BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY");
}

void postgresql_engine::end_read() noexcept {
    if (depth_ == 1)
        take_back();
    else if (depth_ > 1)
        --depth_;
}

void postgresql_engine::commit(entry_no last, const digest& hash) {
    try {
        // Of a transaction that failed before, COMMIT says that all is well and takes it back.
        if (connection.run("COMMIT").did() != "COMMIT")
            throw postgresql_failure{"the server took the entries back", {}, false};
    } catch (const postgresql_failure& failure) {
        if (!failure.connection_lost) throw;
        connection.in_transaction = false;
        depth_ = 0;
        if (!was_committed(last, hash)) throw;
    }
    connection.in_transaction = false;
    depth_ = 0;
}

bool postgresql_engine::was_committed(entry_no last, const digest& hash) {
    using namespace std::chrono_literals;
    const auto until = std::chrono::steady_clock::now() + std::chrono::milliseconds{waiting_time};
    for (;;) {
        try {
            connection.connect_anew();
            if (last == 0) return schema_version() != 0;
            // With the turn in hand the lost transaction is over, one way or the other.
            begin_write();
            const auto rows = connection.run_with(is_in_journal_sql, {std::to_string(last)});
            const bool is_there = rows.count() == 1 && rows.hash(0, 0) == hash;
            take_back();
            return is_there;
        } catch (const io_error&) { // the server may be on its way up again, or another one in its place
        } catch (const postgresql_failure&) {
        }
        if (std::chrono::steady_clock::now() > until)
            throw io_error(fmt::format(
                "the connection to {} was lost while the entries were committed, and no server has answered since: "
                "whether they are in the ledger is not known. When it is back, run the same command with the same "
                "--once KEY if it had one (it counts once), or look first: tarewell ledger history --acts",
                url));
        std::this_thread::sleep_for(200ms);
    }
}

std::unique_ptr<entry_inserts> postgresql_engine::inserts() { return std::make_unique<postgresql_copies>(connection); }

void postgresql_engine::erase_contacts(const std::vector<entry_no>& entries) {
    for (const auto entry : entries)
        connection.run_prepared(erase_sql, {std::to_string(entry)});
}

void postgresql_engine::rethrow() const {
    try {
        throw;
    } catch (const postgresql_failure& failure) {
        ledger::rethrow(failure, url);
    }
}

void rethrow(const postgresql_failure& failure, const std::string& url) {
    const auto& state = failure.state;
    if (state == "55P03" || state == "40P01" || state == "40001") // lock not available, deadlock, serialization
        throw busy_error(fmt::format("{} is in use by another program and stayed so for {} seconds; "
                                     "nothing was changed: try again when it is done",
                                     url, waiting_time / 1000));
    if (state == "53100" || state == "53200") // disk full, out of memory
        throw io_error(fmt::format("the server of {} has no room left ({}); nothing was changed: make room there and "
                                   "run the command again",
                                   url, failure.what()));
    if (state == insufficient_privilege)
        throw input_error(
            fmt::format("{}: your role may not do that ({}); nothing was changed: ask the ledger's owner to make "
                        "you a member of tarewell_entry or tarewell_reader (tarewell ledger roles), or, for a new "
                        "ledger, the database's owner to let you create one (GRANT CREATE ON DATABASE)",
                        url, failure.what()));
    if (state == "25006") // read-only transaction
        throw input_error(fmt::format("{}: the server only reads ({}); nothing was changed: name the one that writes, "
                                      "such as by ?target_session_attrs=read-write",
                                      url, failure.what()));
    if (state == "57014") // query canceled
        throw io_error(fmt::format("{}: the server broke off ({}); nothing was changed: ask who runs it for a longer "
                                   "statement_timeout, and run the command again",
                                   url, failure.what()));
    if (failure.connection_lost || state.starts_with("57P") || state.starts_with("08"))
        throw io_error(fmt::format("the connection to {} was lost ({}); nothing was changed: run the command again "
                                   "when the server answers",
                                   url, failure.what()));
    if (state.starts_with("XX") || state.starts_with("58"))
        throw ledger_error(
            fmt::format("{} is damaged ({}); restore the server's last backup beside it", url, failure.what()));
    throw ledger_error(fmt::format("{}: {}", url, failure.what()));
}

} // namespace tarewell::ledger
