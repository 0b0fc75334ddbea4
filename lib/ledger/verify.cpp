#include "ledger/verify.hpp"

#include "ledger/embedded.hpp"
#include "ledger/hash_form.hpp"
#include "ledger/inside.hpp"
#include "ledger/kind_sql.hpp"
#include "ledger/read_row.hpp"
#include "records/erasure.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

namespace tarewell::ledger {

using namespace records; // NOLINT
namespace {

constexpr const char* chain_sql = R"sql(
SELECT seq, act, at, who, command, reason, once, source, source_sha256, kind, deed, replaces, effective, line, hash
    FROM journal LEFT JOIN act USING (act) WHERE seq <= ?1 ORDER BY seq
)sql";
constexpr const char* erasures_sql = "SELECT seq, kind FROM journal WHERE deed = 'erase' ORDER BY seq";
constexpr const char* contact_sql = "SELECT salt, name, farm, email, phone FROM contact WHERE seq = ?1";
constexpr const char* orphan_acts_sql = "SELECT act FROM act WHERE act NOT IN (SELECT act FROM journal)";
constexpr const char* row_counts_sql = R"sql(
SELECT count(*) FROM journal WHERE kind = ?1 AND deed <> 'void'
)sql";

std::string text_at(SQLite::Statement& statement, int index) {
    return std::string{text_in(statement.getColumn(index))};
}

/// Reads rows by entry with each kind's statement kept.
class row_reader {
  public:
    explicit row_reader(SQLite::Database& database) : database_{database} {}

    std::optional<stored_row> row(kind which, entry_no entry) {
        auto found = statements_.find(which);
        if (found == statements_.end())
            found = statements_.emplace(which, SQLite::Statement{database_, sql_of(which).entry}).first;
        auto& statement = found->second;
        statement.reset();
        statement.bind(1, entry);
        if (!statement.executeStep()) return std::nullopt;
        stored_row stored;
        stored.values.which = which;
        read_row(statement, stored);
        return stored;
    }

    std::string contact_digest(kind which, entry_no entry) {
        if (!contact_digest_) contact_digest_.emplace(database_, sql_of(which).contact_digest);
        contact_digest_->reset();
        contact_digest_->bind(1, entry);
        return contact_digest_->executeStep() ? text_at(*contact_digest_, 0) : std::string{};
    }

  private:
    SQLite::Database& database_;
    std::optional<SQLite::Statement> contact_digest_; ///< of the one kind that has personal columns
    std::map<kind, SQLite::Statement> statements_;
};

chained_entry entry_in(SQLite::Statement& statement) {
    chained_entry made;
    auto& entry = made.entry;
    entry.seq = statement.getColumn(0).getInt64();
    entry.act = statement.getColumn(1).getInt64();
    entry.at = text_at(statement, 2), entry.who = text_at(statement, 3), entry.command = text_at(statement, 4);
    entry.reason = text_at(statement, 5), made.once = text_at(statement, 6), entry.source = text_at(statement, 7);
    made.source_sha256 = text_at(statement, 8), entry.kind = text_at(statement, 9), entry.deed = text_at(statement, 10);
    if (!statement.isColumnNull(11)) entry.replaces = statement.getColumn(11).getInt64();
    entry.effective = text_at(statement, 12);
    if (!statement.isColumnNull(13)) entry.line = statement.getColumn(13).getInt64();
    entry.hash = hex(digest_in(statement.getColumn(14)));
    return made;
}

/// The chain walked from its first entry; `fault` hears of rows that are missing.
void walk(const ledger_file& of, entry_no seq, const std::function<void(const chained_entry&)>& each,
          const std::function<void(entry_no, std::string)>& fault) {
    auto& database = of.inside().database;
    SQLite::Statement statement{database, chain_sql};
    statement.bind(1, seq);
    row_reader rows{database};
    while (statement.executeStep()) {
        auto chained = entry_in(statement);
        const auto* kind = find_kind(chained.entry.kind);
        const bool has_row = chained.entry.deed != name_of(deed::void_);
        if (kind == nullptr) {
            fault(chained.entry.seq, "is of a kind that nothing knows: " + chained.entry.kind);
        } else if (has_row) {
            const auto stored = rows.row(kind->which, chained.entry.seq);
            if (!stored) {
                fault(chained.entry.seq, fmt::format("has no row in {}", kind->file));
            } else {
                const auto digest =
                    kind->has_personal_columns() ? rows.contact_digest(kind->which, chained.entry.seq) : std::string{};
                chained.values = values_form(stored->values, digest);
            }
        }
        each(chained);
    }
}

/// Of the kind that has personal columns.
void check_contacts(const ledger_file& of, const kind_info& kind, std::vector<unsound>& found) {
    auto& database = of.inside().database;
    const auto stray = fmt::format("SELECT count(*) FROM contact WHERE seq NOT IN (SELECT seq FROM {})", kind.file);
    if (database.execAndGet(stray).getInt64() != 0)
        found.push_back({0, fmt::format("a contact row belongs to no {}", kind.name)});
    std::set<entry_no> erased;
    SQLite::Statement erasures{database, erasures_sql};
    while (erasures.executeStep())
        of.with_entry(find_kind(text_at(erasures, 1))->which, erasures.getColumn(0).getInt64(),
                      [&](const stored_row& stored) {
                          for (const auto entry : forgotten_by(stored.values))
                              erased.insert(entry);
                      });
    sha256 hasher;
    SQLite::Statement people{database, fmt::format("SELECT seq, contact_digest FROM {} ORDER BY seq", kind.file)};
    SQLite::Statement contact{database, contact_sql};
    while (people.executeStep()) {
        const auto seq = people.getColumn(0).getInt64();
        contact.reset();
        contact.bind(1, seq);
        if (!contact.executeStep()) {
            found.push_back({seq, "has lost its contact row"});
            continue;
        }
        row values;
        values.which = kind.which;
        std::string texts[5];
        for (int i = 0; i < 5; ++i)
            texts[i] = text_at(contact, i);
        for (std::size_t i = 0, next = 1; i < kind.columns.size(); ++i)
            if (kind.columns[i].personal) values.cells[i] = texts[next++];
        if (erased.contains(seq)) {
            if (std::any_of(std::begin(texts), std::end(texts), [](const auto& text) { return !text.empty(); }))
                found.push_back({seq, "should have been erased and was not"});
        } else if (texts[0].empty()) {
            found.push_back({seq, "has lost its contact details without an erasure in the journal"});
        } else if (hex(hasher.of(contact_form(texts[0], values))) != text_at(people, 1)) {
            found.push_back({seq, "has contact details that differ from their digest"});
        }
    }
}

/// "TYPE NAME" and its SQL, of everything that a database defines.
std::map<std::string, std::string> schema_in(SQLite::Database& database) {
    std::map<std::string, std::string> defined;
    SQLite::Statement statement{database, "SELECT type || ' ' || name, sql FROM sqlite_schema WHERE sql IS NOT NULL"};
    while (statement.executeStep())
        defined.emplace(text_at(statement, 0), text_at(statement, 1));
    return defined;
}

/// Tables, triggers and views are those of this program: a trigger that is gone would let rows be changed.
void check_schema(SQLite::Database& database, std::vector<unsound>& found) {
    SQLite::Database fresh{":memory:", SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE};
    for (const auto& file : schema_files())
        fresh.exec(std::string{file.text});
    auto there = schema_in(database);
    for (const auto& [name, sql] : schema_in(fresh)) {
        const auto node = there.extract(name);
        if (node.empty())
            found.push_back({0, "the schema has lost its " + name});
        else if (node.mapped() != sql)
            found.push_back({0, "the schema's " + name + " was changed"});
    }
    for (const auto& [name, sql] : there)
        found.push_back({0, "the schema has a " + name + " that is not the program's"});
}

void check_tables(const ledger_file& of, std::vector<unsound>& found) {
    auto& database = of.inside().database;
    check_schema(database, found);
    SQLite::Statement integrity{database, "PRAGMA integrity_check"};
    while (integrity.executeStep())
        if (const auto text = text_at(integrity, 0); text != "ok") found.push_back({0, "SQLite: " + text});
    SQLite::Statement keys{database, "PRAGMA foreign_key_check"};
    while (keys.executeStep())
        found.push_back(
            {keys.getColumn(1).getInt64(), "a row of " + text_at(keys, 0) + " names one that is not there"});
    for (const auto& kind : all_kinds()) {
        SQLite::Statement counted{database, row_counts_sql};
        counted.bind(1, std::string{kind.name});
        counted.executeStep();
        const auto rows = database.execAndGet(sql_of(kind.which).count).getInt64();
        if (rows != counted.getColumn(0).getInt64())
            found.push_back({0, fmt::format("{} has {} rows and the journal {} entries of it", kind.file, rows,
                                            counted.getColumn(0).getInt64())});
    }
    SQLite::Statement orphans{database, orphan_acts_sql};
    while (orphans.executeStep())
        found.push_back({0, fmt::format("act {} has no entry", orphans.getColumn(0).getInt64())});
}

} // namespace

void for_each_chained_entry(const ledger_file& of, entry_no seq,
                            const std::function<void(const chained_entry&)>& each) {
    guarded(of.path(), [&] {
        walk(of, seq, each, [](entry_no entry, const std::string& what) {
            throw ledger_error(fmt::format("entry {} {}; run: tarewell ledger check", entry, what));
        });
    });
}

std::vector<unsound> verify(const ledger_file& of) {
    std::vector<unsound> found;
    guarded(of.path(), [&] {
        check_tables(of, found);
        sha256 hasher;
        digest before{};
        entry_no expected = 1;
        std::int64_t known_act = 0;
        digest act_digest{};
        std::string message;
        const auto fault = [&](entry_no entry, std::string what) { found.push_back({entry, std::move(what)}); };
        walk(
            of, of.head().seq,
            [&](const chained_entry& each) {
                const auto& entry = each.entry;
                if (entry.seq != expected) fault(entry.seq, fmt::format("stands where entry {} should", expected));
                expected = entry.seq + 1;
                if (entry.act != known_act) {
                    const std::string_view texts[] = {entry.at,  entry.who,    entry.command,     entry.reason,
                                                      each.once, entry.source, each.source_sha256};
                    act_digest = hasher.of(act_form(entry.act, texts));
                    known_act = entry.act;
                }
                message.assign(bytes(before));
                message += bytes(act_digest);
                add_entry_form(message,
                               {entry.seq, entry.kind, entry.deed, entry.replaces, entry.effective, entry.line});
                message += each.values;
                const auto again = hasher.of(message);
                if (hex(again) != entry.hash)
                    fault(entry.seq, "does not give the hash that it carries: it, its act or its row was changed");
                // Go on from what is written, so that each change is told once.
                for (std::size_t i = 0; i < before.size(); ++i)
                    before[i] = static_cast<unsigned char>(std::stoi(entry.hash.substr(2 * i, 2), nullptr, 16));
            },
            fault);
        for (const auto& kind : all_kinds())
            if (kind.has_personal_columns()) check_contacts(of, kind, found);
    });
    return found;
}

} // namespace tarewell::ledger
