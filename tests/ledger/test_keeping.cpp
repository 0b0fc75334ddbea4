#include "base_season.hpp"
#include "terminal.hpp"
#include "figures/soundness.hpp"
#include "ledger/sqlite_engine.hpp"
#include "ledger/keeping.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;
using records::kind;
using ledger::ledger_file;

namespace {

/// The base season taken in, with another connection to its file and a place for a backup.
struct kept_basin : base_season {
    std::string backup = folder().file("backup.tarewell");
    kept_basin() { take_all(); }
    [[nodiscard]] std::string path() { return ledger().path(); }
    void add_site(ledger_file& to, const std::string& id) {
        intake::record(to, kind::site, {{"site", id}, {"name", "Grange hall"}}, around());
    }
    /// Moves the ledger aside, so that another may stand in its place.
    static std::string copy_of(const std::string& file, const std::string& to) {
        std::filesystem::copy_file(file, to);
        return to;
    }
};

records::entry_no entries_in(const std::string& path) { return ledger_file::open(path).head().seq; }

} // namespace

TEST_CASE("a backup holds every entry and is a sound ledger of its own") {
    kept_basin basin;
    const auto head = ledger::back_up(basin.ledger(), basin.backup);
    CHECK(head.seq == basin.head());
    const auto copy = ledger_file::open(basin.backup);
    CHECK(copy.head().hash == basin.ledger().head().hash);
    CHECK(figures::unsound_in(copy) == std::vector<std::string>{});
}

TEST_CASE("a backup taken after another connection wrote holds what it wrote") {
    kept_basin basin;
    auto other = ledger_file::open(basin.path());
    basin.add_site(other, "S8");
    const auto head = ledger::back_up(basin.ledger(), basin.backup);
    CHECK(head.seq == other.head().seq);
    CHECK(entries_in(basin.backup) == other.head().seq);
}

TEST_CASE("a backup taken while another connection is in a transaction holds what was committed before") {
    kept_basin basin;
    const auto before = basin.head();
    auto other = ledger_file::open(basin.path());
    {
        ledger::writer writing{other, basin.around()};
        writing.begin({"record site"});
        records::row values;
        values.which = kind::site;
        values.cells[0] = "S8", values.cells[1] = "Grange hall";
        writing.append(values);
        CHECK(ledger::back_up(basin.ledger(), basin.backup).seq == before);
        writing.commit();
    }
    CHECK(entries_in(basin.backup) == before);
    CHECK(figures::unsound_in(ledger_file::open(basin.backup)).empty());
    CHECK(basin.head() == before + 1);
}

TEST_CASE("a backup is never written over a file, and one that fails leaves nothing") {
    kept_basin basin;
    const auto there = basin.folder().write("notes.txt", "keep me");
    CHECK_THAT(message_of<records::input_error>([&] { ledger::back_up(basin.ledger(), there); }),
               Contains("is there already"));
    CHECK(bytes_in(there) == "keep me");
    CHECK_THROWS_AS(ledger::back_up(basin.ledger(), basin.folder().file("no/such/backup")), records::io_error);
}

TEST_CASE("a backup is restored where no ledger is, and over an older beginning of itself") {
    kept_basin basin;
    const auto old = kept_basin::copy_of(basin.path(), basin.folder().file("old.tarewell"));
    basin.add_site(basin.ledger(), "S8");
    ledger::back_up(basin.ledger(), basin.backup);
    const auto fresh = basin.folder().file("fresh.tarewell");
    CHECK(ledger::restore(basin.backup, fresh).empty());
    CHECK(entries_in(fresh) == basin.head());
    CHECK(ledger::restore(basin.backup, old).empty());
    CHECK(entries_in(old) == basin.head());
    CHECK(ledger::restore(basin.backup, old).empty()); // the same again
    CHECK(figures::unsound_in(ledger_file::open(old)).empty());
    const auto empty = basin.folder().file("empty.tarewell");
    ledger_file::create(empty);
    CHECK(ledger::restore(basin.backup, empty).empty());
    CHECK(entries_in(empty) == basin.head());
}

TEST_CASE("a backup is not restored over a ledger that has entries which it lacks, newer or other") {
    kept_basin basin;
    ledger::back_up(basin.ledger(), basin.backup);
    basin.add_site(basin.ledger(), "S8");
    const auto before = bytes_in(basin.path());
    CHECK_THAT(message_of<records::input_error>([&] { ledger::restore(basin.backup, basin.path()); }),
               Contains("has entries that the backup lacks") && Contains("nothing was changed"));
    CHECK(bytes_in(basin.path()) == before);
    // As many entries, but the last is another.
    auto copy = ledger_file::open(basin.backup);
    basin.add_site(copy, "S9");
    CHECK_THROWS_AS(ledger::restore(basin.backup, basin.path()), records::input_error);
    // More entries, the same last but one.
    basin.add_site(copy, "S10");
    CHECK_THROWS_AS(ledger::restore(basin.backup, basin.path()), records::input_error);
    CHECK(bytes_in(basin.path()) == before);
    CHECK_THAT(message_of<records::input_error>([&] { ledger::restore(basin.path(), basin.path()); }),
               Contains("one file"));
}

TEST_CASE("a damaged ledger is kept aside when its backup is restored, and an older one kept so is not lost") {
    kept_basin basin;
    ledger::back_up(basin.ledger(), basin.backup);
    const auto damaged = basin.folder().write("damaged.tarewell", "SQLite format 3" + std::string(3000, 'x'));
    const auto was = bytes_in(damaged);
    const auto kept = ledger::restore(basin.backup, damaged);
    CHECK(kept == damaged + ".before-restore");
    CHECK(bytes_in(kept) == was);
    CHECK(entries_in(damaged) == basin.head());
    (void)basin.folder().write("damaged.tarewell", "damaged again");
    CHECK_THAT(message_of<records::input_error>([&] { ledger::restore(basin.backup, damaged); }),
               Contains("move it away first"));
    CHECK(bytes_in(kept) == was);
    CHECK(bytes_in(damaged) == "damaged again");
}

TEST_CASE("a backup that is damaged or no ledger is not restored") {
    kept_basin basin;
    const auto before = bytes_in(basin.path());
    const auto cut = basin.folder().write("cut.tarewell", before.substr(0, before.size() / 2));
    const auto notes = basin.folder().write("notes.txt", "no ledger at all, only notes");
    for (const auto& backup : {cut, notes}) {
        const auto to = basin.folder().file("to.tarewell");
        CHECK_THROWS_AS(ledger::restore(backup, to), records::ledger_error);
        CHECK_FALSE(std::filesystem::exists(to));
    }
    CHECK_THROWS_AS(ledger::restore(basin.folder().file("nowhere"), basin.folder().file("to")), records::input_error);
    CHECK(bytes_in(basin.path()) == before);
}

TEST_CASE("a file that is not a sound ledger of this program is named as what it is, with what to do, and exit 65") {
    kept_basin basin;
    const auto whole = bytes_in(basin.path());
    const auto file = basin.folder().file("other.tarewell");
    const auto refused = [&](const std::string& bytes, const char* sql = nullptr) {
        (void)basin.folder().write("other.tarewell", bytes);
        if (sql != nullptr) SQLite::Database{file, SQLite::OPEN_READWRITE}.exec(sql);
        const auto said = terminal{file}.tell({"quarter", "show", "2026-Q2"});
        CHECK(said.code == cli::bad_input);
        CHECK(said.out.empty());
        CHECK_THAT(said.err, Contains(file));
        return said.err;
    };
    CHECK_THAT(refused(""), Contains("is empty") && Contains("restore it from a backup"));
    CHECK_THAT(refused("grower,name\nG1,Ruth\n"), Contains("is not a Tarewell ledger") && Contains("backup"));
    CHECK_THAT(refused(whole, "PRAGMA application_id = 7"),
               Contains("not a Tarewell ledger") && Contains("tarewell new"));
    CHECK_THAT(refused(whole, "PRAGMA user_version = 99"), Contains("newer") && Contains("use the newer program"));
    CHECK_THAT(refused(whole.substr(0, 40)), Contains("damaged") || Contains("restore"));
    CHECK_THAT(refused(whole.substr(0, whole.size() / 2)),
               Contains("is damaged") && Contains("restore the last backup"));
    auto spoiled = whole;
    std::fill(spoiled.begin() + 4096, spoiled.begin() + 8192, '\xA5');
    CHECK_THAT(refused(spoiled), Contains("damaged") && Contains("restore the last backup"));
    const auto missing = terminal{basin.folder().file("nowhere")}.tell({"ledger", "check"});
    CHECK(missing.code == cli::bad_input);
    CHECK_THAT(missing.err, Contains("there is no ledger at") && Contains("tarewell new"));
}

TEST_CASE("at the desk a ledger is backed up and restored, and told when it is not") {
    kept_basin basin;
    const terminal at{basin.path()};
    CHECK_THAT(at.done({"ledger", "backup", basin.backup}),
               Contains(fmt::format("backed up {} entries", basin.head())) &&
                   Contains(ledger::hex(basin.ledger().head().hash)));
    basin.add_site(basin.ledger(), "S8");
    CHECK(at.tell({"ledger", "restore", basin.backup}).code == cli::bad_input);
    const terminal elsewhere{basin.folder().file("elsewhere.tarewell")};
    CHECK_THAT(elsewhere.done({"ledger", "restore", basin.backup}), Contains("restored"));
    CHECK_THAT(elsewhere.done({"ledger", "check"}), Contains("OK: "));
}
