#include "ledger/sqlite_engine.hpp"
#include "rows.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;
using records::kind;

namespace {

/// Another program's connection, with none of our authorizer.
class other_connection {
  public:
    explicit other_connection(const std::string& path) : database_{path, SQLite::OPEN_READWRITE} {
        database_.exec("PRAGMA foreign_keys = ON");
        database_.exec("PRAGMA recursive_triggers = ON");
    }
    /// Runs the statement; the refusal's text, or "" when it went through.
    std::string refusal_of(const std::string& sql) {
        try {
            database_.exec(sql);
            return {};
        } catch (const SQLite::Exception& failure) {
            return failure.what();
        }
    }

  private:
    SQLite::Database database_;
};

std::vector<std::string> all_tables() {
    std::vector<std::string> tables{"act", "journal"};
    for (const auto& each : records::all_kinds())
        tables.emplace_back(each.file);
    return tables;
}

} // namespace

TEST_CASE("another program's update or deletion of any table is refused by the ledger itself") {
    small_ledger small;
    // Triggers fire for rows: each table has one.
    for (const auto& each : records::all_kinds())
        small.record(row_of_names(each));
    other_connection other{small.path()};
    for (const auto& table : all_tables()) {
        CAPTURE(table);
        const auto key = table == "act" ? "act" : "seq";
        const auto itself = std::string{" SET "} + key + " = " + key;
        CHECK_THAT(other.refusal_of("UPDATE " + table + itself), Contains("the ledger only grows"));
        CHECK_THAT(other.refusal_of("DELETE FROM " + table), Contains("the ledger only grows"));
    }
    CHECK_THAT(other.refusal_of("DELETE FROM contact"), Contains("the ledger only grows"));
}

TEST_CASE("a replacing insert is a deletion and refused") {
    small_ledger small;
    small.record(site_row("S1", "Old Creamery"));
    other_connection other{small.path()};
    CHECK_THAT(other.refusal_of("INSERT OR REPLACE INTO sites (seq, site, name) VALUES (1, 'S9', 'x')"),
               Contains("the ledger only grows"));
    CHECK_THAT(other.refusal_of("REPLACE INTO journal (seq, act, kind, deed, hash) "
                                "VALUES (1, 1, 'site', 'record', zeroblob(32))"),
               Contains("the ledger only grows"));
    CHECK(small.in_force(kind::site, 1) == std::vector<std::string>{"S1 Old Creamery"});
}

TEST_CASE("contact details can be erased whole and neither changed nor erased in part") {
    small_ledger small;
    small.record(row_of(kind::grower, {"G1", "Ruth Ames", "Hollow Farm", "Wend", "KB", "r@example.org", ""}));
    other_connection other{small.path()};
    CHECK_THAT(other.refusal_of("UPDATE contact SET name = 'Someone Else'"), Contains("erased whole"));
    CHECK_THAT(other.refusal_of("UPDATE contact SET email = NULL"), Contains("erased whole"));
    CHECK_THAT(other.refusal_of("UPDATE contact SET seq = 2, salt = NULL, name = NULL, farm = NULL, "
                                "email = NULL, phone = NULL"),
               Contains("erased whole"));
    CHECK(other
              .refusal_of("UPDATE contact SET salt = NULL, name = NULL, farm = NULL, email = NULL, "
                          "phone = NULL")
              .empty());
}

TEST_CASE("the program itself may not change, delete, replace, drop or attach") {
    small_ledger small;
    small.record(site_row("S1", "Old Creamery"));
    auto& database = ledger::database_of(small.file());
    for (const auto* sql : {"UPDATE sites SET name = 'x'",
                            "UPDATE journal SET line = 1",
                            "UPDATE act SET who = 'x'",
                            "UPDATE contact SET salt = NULL, name = NULL, farm = NULL, email = NULL, phone = NULL",
                            "DELETE FROM sites",
                            "DELETE FROM journal",
                            "DELETE FROM contact",
                            "INSERT OR REPLACE INTO sites (seq, site, name) VALUES (1, 'S9', 'x')",
                            "DROP TABLE sites",
                            "DROP TRIGGER sites_no_update",
                            "DROP INDEX journal_replaces",
                            "DROP VIEW sites_in_force",
                            "ALTER TABLE sites ADD COLUMN extra TEXT",
                            "ALTER TABLE sites RENAME TO places",
                            "CREATE TABLE more (x)",
                            "CREATE TEMP TABLE sites (x)",
                            "CREATE TEMP VIEW sites AS SELECT 1",
                            "CREATE TRIGGER t AFTER INSERT ON sites BEGIN SELECT 1; END",
                            "ATTACH ':memory:' AS other",
                            "VACUUM INTO '/dev/null'",
                            "REINDEX",
                            "ANALYZE"}) {
        CAPTURE(sql);
        CHECK_THROWS_AS(database.exec(sql), SQLite::Exception);
    }
    CHECK(small.in_force(kind::site, 1) == std::vector<std::string>{"S1 Old Creamery"});
}

TEST_CASE("a journal entry without its act, or a row without its entry, is refused") {
    small_ledger small;
    small.record(site_row("S1", "Old Creamery"));
    auto& database = ledger::database_of(small.file());
    CHECK_THROWS_AS(database.exec("INSERT INTO journal (seq, act, kind, deed, hash) "
                                  "VALUES (2, 77, 'site', 'record', zeroblob(32))"),
                    SQLite::Exception);
    CHECK_THROWS_AS(database.exec("INSERT INTO sites (seq, site, name) VALUES (55, 'S2', 'x')"), SQLite::Exception);
    CHECK_THROWS_AS(database.exec("INSERT INTO journal (seq, act, kind, deed, hash) "
                                  "VALUES (2, 1, 'site', 'mend', zeroblob(32))"),
                    SQLite::Exception);
    CHECK_THROWS_AS(database.exec("INSERT INTO journal (seq, act, kind, deed, hash) "
                                  "VALUES (2, 1, 'site', 'record', zeroblob(31))"),
                    SQLite::Exception);
}

TEST_CASE("an entry is replaced once") {
    small_ledger small;
    const auto first = small.record(site_row("S1", "Old Creamery"));
    small.correct(site_row("S1", "New Creamery"), first);
    CHECK_THROWS_AS(small.correct(site_row("S1", "Third Creamery"), first), records::ledger_error);
    CHECK(small.in_force(kind::site, small.file().head().seq) == std::vector<std::string>{"S1 New Creamery"});
}
