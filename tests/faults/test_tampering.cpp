#include "terminal.hpp"
#include "figures/closing.hpp"
#include "figures/soundness.hpp"
#include "ledger/verify.hpp"

#include <SQLiteCpp/SQLiteCpp.h>
#include <catch2/catch.hpp>

#include <cstdlib>
#include <iostream>

using namespace tarewell;
using namespace tarewell::tests;

// Somebody who can write to the file changes it behind the program's back. Either the check notices (or the file is
// refused on opening), or every figure and the evidence are the same as before. A whole chain worked out anew is not
// tried here: the head that was printed and sent tells that.

namespace {

constexpr quantity::quarter quarters[] = {{2026, 1}, {2026, 2}, {2026, 3}, {2026, 4}, {2027, 1}, {2027, 2}};

/// Every figure of every quarter with its evidence, and the journal's head.
std::string all_that_is_said(const std::string& path) {
    const auto file = ledger::ledger_file::open(path);
    const auto head = file.head();
    std::string said = fmt::format("{} {} {}\n", head.seq, ledger::hex(head.hash), head.at);
    for (const auto& quarter : quarters) {
        const auto view = figures::view_period(file, quarter, figures::as_of_period(file, quarter));
        said += fmt::format("{} {}\n", view.report.basis.as_of, view.report.basis.closed);
        for (const auto& figure : view.report.figures) {
            said += fmt::format("{} {} {}", figure.name, figures::text_of(figure.value), figure.reason);
            for (const auto& row : figures::evidence_of(figure.name, view.report.basis, view.season, view.reckoning))
                said += fmt::format(" {}:{}", row.entry, row.adds.value_or(0));
            said += '\n';
        }
    }
    return said;
}

/// The sample season with a correction, a void, an amendment, an erasure, a document and the second quarter closed.
class whole_ledger {
  public:
    whole_ledger() {
        for (const auto& command : std::vector<std::vector<std::string>>{
                 {"correct", "ticket", "T0002", "--weigher", "Dell Rourke", "--why", "misread"},
                 {"void", "inkind", "K002", "--why", "entered twice"},
                 {"settings", "set", "bundle_aim_lb", "45"},
                 {"record", "amendment", "--amendment", "A1", "--date", "2026-08-01", "--goal_tons", "20",
                  "--description", "grew"},
                 {"record", "rebudget", "--amendment", "A1", "--category", "travel", "--grant", "500", "--match", "0"},
                 {"audit", "confirm", "ticket", "T0004", "--why", "the paper was seen"},
                 {"growers", "merge", "G004", "G005", "--why", "one person under two ids"},
                 {"intake", "map", "own", "--set", "dates=mdy", "--why", "as the site writes"},
                 {"growers", "erase", "G003", "--why", "asked by the grower"},
                 {"document", "attach", "ticket", "T0001", desk_.folder().write("scan.txt", "a scan")}})
            (void)desk_.done(command);
        if (desk_.close("2026-Q2").code != cli::done) throw std::runtime_error("the quarter could not be closed");
        bytes_ = bytes_in(desk_.ledger());
        said_ = all_that_is_said(desk_.ledger());
    }
    [[nodiscard]] const std::string& path() const { return desk_.ledger(); }
    [[nodiscard]] const std::string& bytes() const { return bytes_; }
    void put_back() const {
        std::filesystem::remove(path() + "-journal");
        (void)desk_.folder().write("kestrel.tarewell", bytes_);
    }
    enum class outcome { noticed, unchanged, bent };
    [[nodiscard]] outcome outcome_now() const {
        try {
            const auto file = ledger::ledger_file::open(path());
            // The first part of the check alone is quicker, and mostly enough.
            if (!ledger::verify(file).empty() || !figures::unsound_in(file).empty()) return outcome::noticed;
            return all_that_is_said(path()) == said_ ? outcome::unchanged : outcome::bent;
        } catch (const std::exception&) {
            return outcome::noticed; // refused, with a message
        }
    }

  private:
    sample_desk desk_;
    std::string bytes_, said_;
};

struct column_of {
    std::string table, name, type;
};

std::vector<column_of> columns_in(const std::string& path) {
    SQLite::Database database{path, SQLite::OPEN_READONLY};
    SQLite::Statement statement{database,
                                "SELECT t.name, c.name, c.type FROM sqlite_schema t, pragma_table_info(t.name) c "
                                "WHERE t.type = 'table' ORDER BY t.name, c.cid"};
    std::vector<column_of> found;
    while (statement.executeStep())
        found.push_back({statement.getColumn(0).getString(), statement.getColumn(1).getString(),
                         statement.getColumn(2).getString()});
    return found;
}

/// Changes one value in some row's column, with the triggers taken off and put back. False when the table has no row.
bool tamper(const std::string& path, const column_of& column, const char* which_row) {
    SQLite::Database database{path, SQLite::OPEN_READWRITE};
    database.exec(
        "PRAGMA ignore_check_constraints = ON; PRAGMA synchronous = OFF; PRAGMA journal_mode = MEMORY; BEGIN");
    std::vector<std::pair<std::string, std::string>> triggers;
    {
        SQLite::Statement statement{database, "SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'"};
        while (statement.executeStep())
            triggers.emplace_back(statement.getColumn(0).getString(), statement.getColumn(1).getString());
    }
    for (const auto& [name, sql] : triggers)
        database.exec("DROP TRIGGER " + name);
    const auto at = fmt::format("WHERE rowid = (SELECT rowid FROM \"{}\" {})", column.table, which_row);
    const auto now = column.type == "INTEGER" ? fmt::format("coalesce(\"{}\", 0) + 100000", column.name)
                     : column.type == "BLOB"  ? std::string{"randomblob(32)"}
                                              : fmt::format("coalesce(\"{}\", '') || '7'", column.name);
    const int changed =
        database.exec(fmt::format("UPDATE \"{}\" SET \"{}\" = {} {}", column.table, column.name, now, at));
    for (const auto& [name, sql] : triggers)
        database.exec(sql);
    database.exec("COMMIT");
    return changed == 1;
}

/// The header whole, and a sample of the rest: 400 in all; 20,000 with TAREWELL_LONG=1, every byte with
/// TAREWELL_LONG=all (hours).
std::vector<std::size_t> places_to_flip(std::size_t size, std::mt19937_64& dice) {
    const char* longer = std::getenv("TAREWELL_LONG");
    std::vector<std::size_t> places;
    if (longer != nullptr && std::string_view{longer} == "all") {
        for (std::size_t at = 0; at < size; ++at)
            places.push_back(at);
        return places;
    }
    for (std::size_t at = 0; at < 100; ++at)
        places.push_back(at);
    while (places.size() < (longer == nullptr ? 400U : 20'000U))
        places.push_back(dice() % size);
    return places;
}

} // namespace

TEST_CASE("whatever value of whatever column is changed by SQL, the check notices") {
    const whole_ledger whole;
    REQUIRE(whole.outcome_now() == whole_ledger::outcome::unchanged);
    int tampered = 0, noticed = 0;
    std::vector<std::string> empty, bent, unchanged;
    for (const auto& column : columns_in(whole.path())) {
        for (const auto* row : {"LIMIT 1", "ORDER BY rowid DESC LIMIT 1"}) {
            whole.put_back();
            const auto name = column.table + "." + column.name;
            if (!tamper(whole.path(), column, row)) {
                if (empty.empty() || empty.back() != name) empty.push_back(name);
                continue;
            }
            ++tampered;
            const auto outcome = whole.outcome_now();
            if (outcome == whole_ledger::outcome::noticed) ++noticed;
            if (outcome == whole_ledger::outcome::unchanged) unchanged.push_back(name);
            if (outcome == whole_ledger::outcome::bent) bent.push_back(name);
        }
    }
    std::cout << fmt::format("tampered columns {}, noticed {}, unchanged {}, bent {}\n", tampered, noticed,
                             unchanged.size(), bent.size());
    CHECK(empty == std::vector<std::string>{}); // every table holds a row to change
    CHECK(bent == std::vector<std::string>{});
    CHECK(unchanged == std::vector<std::string>{});
    CHECK(tampered > 350);
}

TEST_CASE("whichever byte of the file is flipped, it is noticed, or every figure and its evidence stay the same") {
    const whole_ledger whole;
    const auto size = whole.bytes().size();
    std::mt19937_64 dice{20260514};
    const auto places = places_to_flip(size, dice);
    int noticed = 0, unchanged = 0, written = 0, noticed_of_written = 0;
    std::vector<std::size_t> bent;
    for (const auto at : places) {
        whole.put_back();
        {
            std::fstream file{whole.path(), std::ios::binary | std::ios::in | std::ios::out};
            file.seekp(static_cast<std::streamoff>(at));
            file.put(static_cast<char>(whole.bytes()[at] ^ (1 << (dice() % 8))));
        }
        const auto outcome = whole.outcome_now();
        if (outcome == whole_ledger::outcome::noticed) ++noticed;
        if (outcome == whole_ledger::outcome::unchanged) ++unchanged;
        if (outcome == whole_ledger::outcome::bent) bent.push_back(at);
        if (whole.bytes()[at] == 0) continue; // mostly room that no page uses yet: each index has a page of its own
        ++written;
        if (outcome == whole_ledger::outcome::noticed) ++noticed_of_written;
    }
    std::cout << fmt::format("bytes {} of {}, noticed {}, unchanged {}, bent {}; of {} bytes that are not 0 {} noticed\n",
                             places.size(), size, noticed, unchanged, bent.size(), written, noticed_of_written);
    CHECK(bent == std::vector<std::size_t>{});
    CHECK(written > 100);
    CHECK(noticed_of_written > written * 3 / 4);
}

TEST_CASE("a trigger taken off, a view changed and a table added are noticed") {
    const whole_ledger whole;
    for (const auto& [sql, said] : std::vector<std::pair<std::string, std::string>>{
             {"DROP TRIGGER tickets_no_update", "the schema has lost its trigger tickets_no_update"},
             {"DROP INDEX journal_replaces", "the schema has lost its index journal_replaces"},
             {"DROP VIEW costs_in_force; CREATE VIEW costs_in_force AS SELECT * FROM costs",
              "the schema's view costs_in_force was changed"},
             {"CREATE TABLE more (x)", "the schema has a table more that is not the program's"}}) {
        whole.put_back();
        SQLite::Database{whole.path(), SQLite::OPEN_READWRITE}.exec(sql);
        CHECK(figures::unsound_in(ledger::ledger_file::open(whole.path())) == std::vector<std::string>{said});
    }
}
