#include "ledger/ledger.hpp"

#include "ledger/inside.hpp"
#include "ledger/kind_sql.hpp"
#include "ledger/read_row.hpp"

#include <fmt/format.h>

namespace tarewell::ledger {

using namespace records; // NOLINT
namespace {

constexpr const char* head_sql = R"sql(
SELECT seq, hash, at FROM journal JOIN act USING (act) ORDER BY seq DESC LIMIT 1
)sql";
constexpr const char* head_at_sql = R"sql(
SELECT seq, hash, at FROM journal JOIN act USING (act) WHERE seq = ?1
)sql";
constexpr const char* replacements_sql = R"sql(
SELECT replaces, seq FROM journal WHERE replaces IS NOT NULL AND +seq <= ?1 ORDER BY +seq
)sql";
constexpr const char* replaced_by_sql = "SELECT seq, deed = 'void' FROM journal WHERE replaces = ?1";
constexpr const char* replaces_sql = "SELECT replaces FROM journal WHERE seq = ?1";
constexpr const char* voids_sql = R"sql(
SELECT seq, kind, replaces FROM journal
    WHERE replaces IS NOT NULL AND deed = 'void' AND +seq <= ?1 AND seq NOT IN
        (SELECT replaces FROM journal WHERE replaces IS NOT NULL AND +journal.seq <= ?1)
    ORDER BY +seq
)sql";
constexpr const char* journal_sql = R"sql(
SELECT seq, act, at, who, command, reason, source, kind, deed, replaces, effective, line,
       lower(hex(hash))
    FROM journal JOIN act USING (act) WHERE seq BETWEEN ?1 AND ?2 ORDER BY seq
)sql";
constexpr const char* act_days_sql = "SELECT act, substr(at, 1, 10) FROM act ORDER BY act";
constexpr const char* act_of_sql = "SELECT act FROM journal WHERE seq = ?1";
constexpr const char* done_before_sql = R"sql(
SELECT min(seq), max(seq) FROM journal JOIN act USING (act) WHERE once = ?1
)sql";

journal_head head_in(SQLite::Statement& statement) {
    return {statement.getColumn(0).getInt64(), digest_in(statement.getColumn(1)), statement.getColumn(2).getString()};
}

journal_entry journal_entry_in(SQLite::Statement& statement) {
    journal_entry entry;
    entry.seq = statement.getColumn(0).getInt64();
    entry.act = statement.getColumn(1).getInt64();
    std::string* const texts[] = {&entry.at,     &entry.who,  &entry.command, &entry.reason,
                                  &entry.source, &entry.kind, &entry.deed};
    int index = 2;
    for (auto* text : texts)
        *text = text_in(statement.getColumn(index++));
    if (!statement.isColumnNull(9)) entry.replaces = statement.getColumn(9).getInt64();
    entry.effective = text_in(statement.getColumn(10));
    if (!statement.isColumnNull(11)) entry.line = statement.getColumn(11).getInt64();
    entry.hash = text_in(statement.getColumn(12));
    return entry;
}

template <class Body> auto reading(ledger_file::implementation& inside, Body&& body) {
    return guarded(inside.path, [&] {
        inside.settle_writes();
        return body();
    });
}

} // namespace

void read_row(SQLite::Statement& statement, stored_row& into) {
    const auto& kind = info(into.values.which);
    into.entry = statement.getColumn(0).getInt64();
    int index = 1;
    for (std::size_t i = 0; i < kind.columns.size(); ++i)
        into.values.cells[i] = text_in(statement.getColumn(index++));
    for (std::size_t i = 0; i < kind.worked_out.size(); ++i) {
        const auto column = statement.getColumn(index++);
        into.values.worked_out[i] = column.isNull() ? std::nullopt : std::optional<std::int64_t>{column.getInt64()};
    }
}

std::string_view name_of(deed what) {
    switch (what) {
    case deed::record:
        return "record";
    case deed::correct:
        return "correct";
    case deed::void_:
        return "void";
    case deed::erase:
        return "erase";
    }
    return "";
}

ledger_file::ledger_file(std::unique_ptr<implementation> inside) : inside_{std::move(inside)} {}
ledger_file::~ledger_file() = default;
ledger_file::ledger_file(ledger_file&&) noexcept = default;
ledger_file& ledger_file::operator=(ledger_file&&) noexcept = default;

const std::string& ledger_file::path() const { return inside_->path; }

journal_head ledger_file::head() const {
    return reading(*inside_, [&] {
        SQLite::Statement statement{inside_->database, head_sql};
        return statement.executeStep() ? head_in(statement) : journal_head{};
    });
}

journal_head ledger_file::head_at(entry_no seq) const {
    if (seq == 0) return {};
    return reading(*inside_, [&] {
        SQLite::Statement statement{inside_->database, head_at_sql};
        statement.bind(1, seq);
        if (!statement.executeStep())
            throw input_error(fmt::format("the journal has no entry {}; its last is {}", seq, head().seq));
        return head_in(statement);
    });
}

void ledger_file::for_each(kind which, entry_no seq, const std::function<void(const stored_row&)>& each) const {
    reading(*inside_, [&] {
        SQLite::Statement statement{inside_->database, sql_of(which).in_force};
        statement.bind(1, seq);
        stored_row row;
        row.values.which = which;
        while (statement.executeStep()) {
            read_row(statement, row);
            each(row);
        }
    });
}

bool ledger_file::with_entry(kind which, entry_no entry, const std::function<void(const stored_row&)>& each) const {
    return reading(*inside_, [&] {
        kept_statement statement{*inside_, sql_of(which).entry};
        statement->bind(1, entry);
        if (!statement->executeStep()) return false;
        stored_row row;
        row.values.which = which;
        read_row(*statement, row);
        each(row);
        return true;
    });
}

void ledger_file::for_each_with(kind which, std::string_view column, std::string_view text, entry_no seq,
                                const std::function<void(const stored_row&)>& each, which_rows rows) const {
    reading(*inside_, [&] {
        const auto& sql = sql_of(which);
        kept_statement statement{*inside_,
                                 rows == which_rows::ever ? sql.ever_with(column) : sql.in_force_with(column)};
        statement->bind(1, seq);
        statement->bind(2, std::string{text});
        stored_row row;
        row.values.which = which;
        while (statement->executeStep()) {
            read_row(*statement, row);
            each(row);
        }
    });
}

std::optional<ledger_file::replacement> ledger_file::replaced_by(entry_no entry) const {
    return reading(*inside_, [&]() -> std::optional<replacement> {
        kept_statement statement{*inside_, replaced_by_sql};
        statement->bind(1, entry);
        if (!statement->executeStep()) return std::nullopt;
        return replacement{statement->getColumn(0).getInt64(), statement->getColumn(1).getInt() != 0};
    });
}

entry_no ledger_file::first_of(entry_no entry) const {
    return reading(*inside_, [&] {
        kept_statement statement{*inside_, replaces_sql};
        for (;;) {
            statement->reset();
            statement->bind(1, entry);
            if (!statement->executeStep() || statement->isColumnNull(0)) return entry;
            entry = statement->getColumn(0).getInt64();
        }
    });
}

std::vector<std::pair<entry_no, entry_no>> ledger_file::replacements(entry_no seq) const {
    return reading(*inside_, [&] {
        SQLite::Statement statement{inside_->database, replacements_sql};
        statement.bind(1, seq);
        std::vector<std::pair<entry_no, entry_no>> pairs;
        while (statement.executeStep())
            pairs.emplace_back(statement.getColumn(0).getInt64(), statement.getColumn(1).getInt64());
        return pairs;
    });
}

std::vector<std::pair<entry_no, std::string>> ledger_file::days_of_entry(entry_no seq) const {
    return reading(*inside_, [&] {
        // Acts are numbered in the order of their entries, so an act's first one is found without reading the journal.
        kept_statement act_of{*inside_, act_of_sql};
        const auto first_of_act = [&](std::int64_t act, entry_no from) {
            for (entry_no to = seq + 1; from < to;) {
                const auto middle = from + (to - from) / 2;
                act_of->reset();
                act_of->bind(1, middle);
                if (act_of->executeStep() && act_of->getColumn(0).getInt64() < act)
                    from = middle + 1;
                else
                    to = middle;
            }
            return from;
        };
        std::vector<std::pair<entry_no, std::string>> days;
        SQLite::Statement acts{inside_->database, act_days_sql};
        while (acts.executeStep()) {
            const auto on = text_in(acts.getColumn(1));
            if (!days.empty() && days.back().second == on) continue;
            const auto first = first_of_act(acts.getColumn(0).getInt64(), days.empty() ? 1 : days.back().first);
            if (first > seq) break;
            days.emplace_back(first, on);
        }
        return days;
    });
}

std::vector<ledger_file::voided> ledger_file::voids(entry_no seq) const {
    return reading(*inside_, [&] {
        SQLite::Statement statement{inside_->database, voids_sql};
        statement.bind(1, seq);
        std::vector<voided> found;
        while (statement.executeStep())
            found.push_back({statement.getColumn(0).getInt64(), statement.getColumn(1).getString(),
                             statement.getColumn(2).getInt64()});
        return found;
    });
}

void ledger_file::for_each_journal_entry(entry_no from, entry_no to,
                                         const std::function<void(const journal_entry&)>& each) const {
    reading(*inside_, [&] {
        SQLite::Statement statement{inside_->database, journal_sql};
        statement.bind(1, from);
        statement.bind(2, to);
        while (statement.executeStep())
            each(journal_entry_in(statement));
    });
}

std::optional<std::pair<entry_no, entry_no>> ledger_file::done_before(const std::string& once) const {
    return reading(*inside_, [&]() -> std::optional<std::pair<entry_no, entry_no>> {
        SQLite::Statement statement{inside_->database, done_before_sql};
        statement.bind(1, once);
        if (!statement.executeStep() || statement.isColumnNull(0)) return std::nullopt;
        return std::pair{statement.getColumn(0).getInt64(), statement.getColumn(1).getInt64()};
    });
}

ledger_file::snapshot::snapshot(const ledger_file& of) : of_{of.inside()} {
    guarded(of_.path, [&] {
        of_.database.exec("BEGIN");
        // The read lock is taken with the first read.
        of_.database.execAndGet("SELECT count(*) FROM sqlite_schema");
    });
}

ledger_file::snapshot::~snapshot() { of_.database.tryExec("ROLLBACK"); }

} // namespace tarewell::ledger
