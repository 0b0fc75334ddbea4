#pragma once
// Only for the sources of this room.
#include "ledger/engine.hpp"

#include <functional>
#include <string>
#include <unordered_map>

namespace tarewell::ledger {

struct ledger_file::implementation {
    std::string path;
    std::unique_ptr<engine> store;

    /// Writes what a writer of this file holds back; asked before each read.
    std::function<void()> settle_writes = [] {};

    /// Statements that are asked again and again, by their text.
    std::unordered_map<std::string, std::unique_ptr<query>> kept = {};
};

/// A kept statement on its way; afterwards it is reset, so that it holds no lock.
class kept_query {
  public:
    kept_query(ledger_file::implementation& inside, const std::string& sql) : query_{find(inside, sql)} {}
    ~kept_query() { query_.reset(); }
    kept_query(const kept_query&) = delete;
    kept_query& operator=(const kept_query&) = delete;
    query* operator->() { return &query_; }
    query& operator*() { return query_; }

  private:
    static query& find(ledger_file::implementation& inside, const std::string& sql) {
        const auto found = inside.kept.find(sql);
        if (found != inside.kept.end()) return *found->second;
        return *inside.kept.emplace(sql, inside.store->prepare(sql)).first->second;
    }

    query& query_;
};

/// A write begun at once and taken back unless committed.
class write_transaction {
  public:
    explicit write_transaction(engine& in) : in_{in} { in_.begin_write(); }
    ~write_transaction() {
        if (!committed_) in_.take_back();
    }
    write_transaction(const write_transaction&) = delete;
    write_transaction& operator=(const write_transaction&) = delete;
    void commit(entry_no last, const digest& hash) {
        in_.commit(last, hash);
        committed_ = true;
    }

  private:
    engine& in_;
    bool committed_ = false;
};

/// How long a command waits for another process, in milliseconds.
inline constexpr int waiting_time = 10'000;

/// Runs `body`; the engine's failures come out as this room's.
template <class Body> auto guarded(const ledger_file::implementation& inside, Body&& body) {
    try {
        return body();
    } catch (...) {
        inside.store->rethrow();
        throw;
    }
}

/// Of a statement that gives one whole number.
inline std::int64_t number_of(engine& in, const std::string& sql) {
    const auto asked = in.prepare(sql);
    return asked->step() ? asked->whole(0) : 0;
}

} // namespace tarewell::ledger
