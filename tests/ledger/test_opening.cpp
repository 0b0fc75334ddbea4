#include "ledger/sqlite_engine.hpp"
#include "support.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;
using ledger::ledger_file;

namespace {

void run_sql(const std::string& path, const std::string& sql) {
    SQLite::Database database{path, SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE};
    database.exec(sql);
}

std::string setting_of(const ledger_file& file, const char* pragma) {
    return ledger::database_of(file).execAndGet(std::string{"PRAGMA "} + pragma).getString();
}

} // namespace

TEST_CASE("a new ledger is empty and opens again") {
    const temporary_folder folder;
    const auto path = folder.file("basin.tarewell");
    {
        const auto made = ledger_file::create(path);
        CHECK(made.path() == path);
        CHECK(made.head().seq == 0);
    }
    const auto opened = ledger_file::open(path);
    CHECK(opened.head().seq == 0);
    CHECK(opened.head().hash == ledger::digest{});
    CHECK(opened.head().at.empty());
}

TEST_CASE("a ledger is never made over a file that is there") {
    const temporary_folder folder;
    const auto path = folder.write("notes.txt", "keep me");
    CHECK_THAT(message_of<records::input_error>([&] { ledger_file::create(path); }), Contains("is there already"));
    CHECK(bytes_in(path) == "keep me");
}

TEST_CASE("a ledger in a folder that is missing is an error of the disk") {
    const temporary_folder folder;
    CHECK_THROWS_AS(ledger_file::create(folder.file("no/such/folder/basin.tarewell")), records::io_error);
}

TEST_CASE("a missing ledger is refused with how to make one") {
    const temporary_folder folder;
    const auto path = folder.file("basin.tarewell");
    CHECK_THAT(message_of<records::input_error>([&] { ledger_file::open(path); }), Contains("tarewell new"));
    CHECK_FALSE(std::filesystem::exists(path));
}

TEST_CASE("a folder is no ledger") {
    const temporary_folder folder;
    CHECK_THAT(message_of<records::input_error>([&] { ledger_file::open(folder.path()); }), Contains("folder"));
}

TEST_CASE("an empty file is no ledger and stays empty") {
    const temporary_folder folder;
    const auto path = folder.write("basin.tarewell", "");
    CHECK_THAT(message_of<records::ledger_error>([&] { ledger_file::open(path); }), Contains("is empty"));
    CHECK(bytes_in(path).empty());
}

TEST_CASE("a file that is no database is no ledger and stays as it is") {
    const temporary_folder folder;
    const auto text = GENERATE(as<std::string>{}, "grower,name\n", "SQLite format 2", "x");
    const auto path = folder.write("basin.tarewell", text);
    CHECK_THROWS_AS(ledger_file::open(path), records::ledger_error);
    CHECK(bytes_in(path) == text);
}

TEST_CASE("another program's database is no ledger and stays as it is") {
    const temporary_folder folder;
    const auto path = folder.file("other.db");
    run_sql(path, "CREATE TABLE birds (name TEXT)");
    const auto before = bytes_in(path);
    CHECK_THAT(message_of<records::ledger_error>([&] { ledger_file::open(path); }), Contains("not a Tarewell ledger"));
    CHECK(bytes_in(path) == before);
}

TEST_CASE("a ledger of a newer program is refused with advice") {
    const temporary_folder folder;
    const auto path = folder.file("basin.tarewell");
    ledger_file::create(path);
    run_sql(path, "PRAGMA user_version = 9999");
    CHECK_THAT(message_of<records::ledger_error>([&] { ledger_file::open(path); }),
               Contains("newer") && Contains("9999"));
}

TEST_CASE("a ledger whose pages are damaged is refused and not guessed at") {
    const temporary_folder folder;
    const auto path = folder.file("basin.tarewell");
    ledger_file::create(path);
    auto bytes = bytes_in(path);
    // The first page: the header's 100 bytes stay, the schema's b-tree after it does not.
    std::fill(bytes.begin() + 100, bytes.begin() + 4096, '\x5A');
    folder.write("basin.tarewell", bytes);
    CHECK_THROWS_AS(ledger_file::open(path).head(), records::ledger_error);
}

TEST_CASE("an open ledger has every setting that keeps it safe in force") {
    const temporary_folder folder;
    const auto path = folder.file("basin.tarewell");
    ledger_file::create(path);
    const auto file = ledger_file::open(path);
    CHECK(setting_of(file, "journal_mode") == "delete");
    CHECK(setting_of(file, "synchronous") == "3"); // EXTRA
    CHECK(setting_of(file, "foreign_keys") == "1");
    CHECK(setting_of(file, "recursive_triggers") == "1");
    CHECK(setting_of(file, "trusted_schema") == "0");
    CHECK(setting_of(file, "cell_size_check") == "1");
    CHECK(setting_of(file, "mmap_size") == "0");
    CHECK(setting_of(file, "secure_delete") == "1");
    CHECK(setting_of(file, "busy_timeout") == std::to_string(ledger::waiting_time));
    CHECK(setting_of(file, "integrity_check") == "ok");
    CHECK(setting_of(file, "application_id") == "1417112684"); // 0x54776C6C, "Twll"
}

TEST_CASE("a ledger that was put into write-ahead mode is put back when it is opened") {
    const temporary_folder folder;
    const auto path = folder.file("basin.tarewell");
    ledger_file::create(path);
    run_sql(path, "PRAGMA journal_mode = WAL");
    CHECK(setting_of(ledger_file::open(path), "journal_mode") == "delete");
}

TEST_CASE("the schema cannot be written to from inside, even on request") {
    const temporary_folder folder;
    const auto file = ledger_file::create(folder.file("basin.tarewell"));
    auto& database = ledger::database_of(file);
    database.exec("PRAGMA writable_schema = ON");
    CHECK_THROWS_AS(database.exec("UPDATE sqlite_schema SET sql = '' WHERE name = 'journal_no_update'"),
                    SQLite::Exception);
    CHECK_THROWS_AS(database.exec("DELETE FROM sqlite_schema"), SQLite::Exception);
}
