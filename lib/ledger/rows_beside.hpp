#pragma once
// Only for the sources of this room.
#include "ledger/inside.hpp"
#include "ledger/kind_sql.hpp"
#include "ledger/read_row.hpp"

#include <map>

namespace tarewell::ledger {

inline constexpr const char* contacts_sql = "SELECT seq, salt, name, farm, email, phone FROM contact ORDER BY seq";

/// The rows of one table, each asked for once, in the order of entry.
class row_stream {
  public:
    row_stream(engine& in, const std::string& sql) : rows_{in.stream(sql)} { next(); }
    /// True when it stands at the entry's row.
    bool go_to(entry_no entry) {
        while (there_ && at_ < entry)
            next();
        return there_ && at_ == entry;
    }
    query& operator*() { return *rows_; }

  private:
    void next() {
        there_ = rows_->step();
        if (there_) at_ = rows_->whole(0);
    }
    std::unique_ptr<query> rows_;
    bool there_ = false;
    entry_no at_ = 0;
};

/// Reads all kinds' tables beside the journal.
class rows_beside {
  public:
    explicit rows_beside(engine& in) : in_{in} {}

    std::optional<stored_row> row(records::kind which, entry_no entry) {
        auto& rows = stream_of(rows_, which, sql_of(which).all);
        if (!rows.go_to(entry)) return std::nullopt;
        stored_row stored;
        stored.values.which = which;
        read_row(*rows, stored);
        return stored;
    }

    std::string contact_digest(records::kind which, entry_no entry) {
        auto& digests = stream_of(digests_, which, sql_of(which).contact_digests);
        return std::string{digests.go_to(entry) ? (*digests).text(1) : std::string_view{}};
    }

  private:
    row_stream& stream_of(std::map<kind, row_stream>& in, records::kind which, const std::string& sql) {
        const auto found = in.find(which);
        return found != in.end() ? found->second : in.try_emplace(which, in_, sql).first->second;
    }
    engine& in_;
    std::map<kind, row_stream> rows_, digests_;
};

/// verify of verify.hpp, in a transaction that is under way.
std::vector<unsound> verify(engine& store);

} // namespace tarewell::ledger
