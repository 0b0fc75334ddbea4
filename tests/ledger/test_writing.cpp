#include "ledger/sqlite_engine.hpp"
#include "rows.hpp"

#include <catch2/catch.hpp>

#include <chrono>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;
using records::kind;

namespace {

/// Another process's connection that has begun to write.
class other_writer {
  public:
    explicit other_writer(const std::string& path) : database_{path, SQLite::OPEN_READWRITE} {
        database_.exec("BEGIN IMMEDIATE");
    }
    void let_go() { database_.exec("ROLLBACK"); }
    void take_hold_of_all() { database_.exec("ROLLBACK; BEGIN EXCLUSIVE"); }

  private:
    SQLite::Database database_;
};

void do_not_wait(ledger::ledger_file& file) { ledger::database_of(file).exec("PRAGMA busy_timeout = 20"); }

} // namespace

TEST_CASE("a writer that is not committed leaves nothing behind") {
    small_ledger small;
    const auto before = bytes_in(small.path());
    {
        ledger::writer writing{small.file(), small.around()};
        writing.begin({"record"});
        writing.append(site_row("S1", "Old Creamery"));
        CHECK(small.file().head().seq == 1);
    }
    CHECK(small.file().head().seq == 0);
    CHECK(bytes_in(small.path()) == before);
    CHECK(small.record(site_row("S2", "Nursery lot")) == 1);
}

TEST_CASE("an act without entries is not written") {
    small_ledger small;
    ledger::writer writing{small.file(), small.around()};
    writing.begin({"intake sites"});
    writing.commit();
    CHECK(small.file().head().seq == 0);
    CHECK(ledger::database_of(small.file()).execAndGet("SELECT count(*) FROM act").getInt() == 0);
}

TEST_CASE("the entries of one act share its row and acts are numbered on") {
    small_ledger small;
    ledger::writer writing{small.file(), small.around()};
    writing.begin({"first"});
    writing.append(site_row("S1", "Old Creamery"));
    writing.append(site_row("S2", "Nursery lot"), ledger::deed::record, {}, 7);
    writing.begin({"second"});
    writing.append(site_row("S3", "Mill"));
    writing.commit();
    std::string told;
    small.file().for_each_journal_entry(1, 3, [&](const ledger::journal_entry& each) {
        told += fmt::format("{} {} {};", each.act, each.command, each.line.value_or(0));
    });
    CHECK(told == "1 first 0;1 first 7;2 second 0;");
}

TEST_CASE("a second writer is told that the ledger is busy") {
    small_ledger small;
    do_not_wait(small.file());
    other_writer other{small.path()};
    CHECK_THAT(message_of<records::busy_error>([&] { small.record(site_row("S1", "Old Creamery")); }),
               Contains("in use") && Contains("nothing was changed"));
    CHECK(small.file().head().seq == 0); // reading goes on
    other.let_go();
    CHECK(small.record(site_row("S1", "Old Creamery")) == 1);
}

TEST_CASE("a reader is told that the ledger is busy while another commits") {
    small_ledger small;
    do_not_wait(small.file());
    other_writer other{small.path()};
    other.take_hold_of_all();
    CHECK_THROWS_AS(small.file().head(), records::busy_error);
}

TEST_CASE("a second writer waits for the first as long as it may") {
    small_ledger small;
    ledger::database_of(small.file()).exec("PRAGMA busy_timeout = 150");
    other_writer other{small.path()};
    const auto begun = std::chrono::steady_clock::now();
    CHECK_THROWS_AS(small.record(site_row("S1", "Old Creamery")), records::busy_error);
    CHECK(std::chrono::steady_clock::now() - begun >= std::chrono::milliseconds{100});
}

TEST_CASE("a snapshot sees one state of the ledger throughout") {
    small_ledger small;
    small.record(site_row("S1", "Old Creamery"));
    auto second = ledger::ledger_file::open(small.path());
    do_not_wait(second);
    {
        const ledger::ledger_file::snapshot one_state{small.file()};
        CHECK(small.file().head().seq == 1);
        // In rollback mode the other's commit waits for readers to end.
        const auto write = [&] {
            ledger::writer writing{second, small.around()};
            writing.begin({"record"});
            writing.append(site_row("S2", "Nursery lot"));
            writing.commit();
        };
        CHECK_THROWS_AS(write(), records::busy_error);
        CHECK(small.in_force(kind::site, 9).size() == 1);
    }
    CHECK(second.head().seq == 1);
    CHECK(small.record(site_row("S2", "Nursery lot")) == 2);
    CHECK(second.head().seq == 2);
}

TEST_CASE("an idempotency key is found again and stands once") {
    small_ledger small;
    const auto write_once = [&](const char* id) {
        ledger::writer writing{small.file(), small.around()};
        writing.begin({"record", "", "key-1"});
        writing.append(site_row(id, "Old Creamery"));
        writing.append(site_row((std::string{id} + "b").c_str(), "Old Creamery"));
        writing.commit();
    };
    CHECK_FALSE(small.file().done_before("key-1"));
    write_once("S1");
    CHECK(small.file().done_before("key-1") == std::pair<records::entry_no, records::entry_no>{1, 2});
    CHECK_FALSE(small.file().done_before("key-2"));
    CHECK_FALSE(small.file().done_before(""));
    CHECK_THROWS_AS(write_once("S2"), records::ledger_error);
    CHECK(small.file().head().seq == 2);
}

TEST_CASE("an empty text is kept as not given") {
    small_ledger small;
    small.record(row_of(kind::site, {"S1", "Old Creamery", ""}));
    CHECK(ledger::database_of(small.file()).execAndGet("SELECT count(*) FROM sites WHERE town IS NULL").getInt() == 1);
}
