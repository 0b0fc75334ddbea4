#include "ledger/embedded.hpp"
#include "ledger/sqlite_engine.hpp"

#include <map>

namespace tarewell::ledger {
namespace {

/// "TYPE NAME" and its SQL, of everything that a database defines.
std::map<std::string, std::string> schema_in(SQLite::Database& database) {
    std::map<std::string, std::string> defined;
    SQLite::Statement asked{database, "SELECT type || ' ' || name, sql FROM sqlite_schema WHERE sql IS NOT NULL"};
    while (asked.executeStep())
        defined.emplace(asked.getColumn(0).getString(), asked.getColumn(1).getString());
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

} // namespace

void sqlite_engine::check_tables(std::vector<unsound>& found) {
    check_schema(database, found);
    SQLite::Statement integrity{database, "PRAGMA integrity_check"};
    while (integrity.executeStep())
        if (const auto text = integrity.getColumn(0).getString(); text != "ok") found.push_back({0, "SQLite: " + text});
    SQLite::Statement keys{database, "PRAGMA foreign_key_check"};
    while (keys.executeStep())
        found.push_back({keys.getColumn(1).getInt64(),
                         "a row of " + keys.getColumn(0).getString() + " names one that is not there"});
}

} // namespace tarewell::ledger
