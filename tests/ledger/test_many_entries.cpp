#include "chain_again.hpp"
#include "ledger/sqlite_engine.hpp"
#include "ledger/verify.hpp"
#include "rows.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using records::kind;

// A writer hands entries to a thread of its own from 512 on, and sets an empty table's indexes aside meanwhile.

namespace {

constexpr int many = 3000;

void append_growers(ledger::writer& writing, int from, int to) {
    for (int i = from; i < to; ++i) {
        const auto id = fmt::format("G{:05}", i * 7919 % 100'000), name = fmt::format("Grower {}", i);
        writing.append(row_of(kind::grower, {id, name, "", "Wend", "KB", "", ""}), ledger::deed::record, {}, i);
    }
}

std::string what_is_unsound(const ledger::ledger_file& of) {
    std::string told;
    for (const auto& each : ledger::verify(of))
        told += fmt::format("{}: {}\n", each.entry, each.what);
    const auto chain = chain_again{of.path()}.all();
    return told + (chain.worked_out == chain.stored ? "" : "the chain worked out apart is another");
}

int indexes_in(const ledger::ledger_file& of) {
    return ledger::database_of(of).execAndGet("SELECT count(*) FROM sqlite_schema WHERE type = 'index'").getInt();
}

} // namespace

TEST_CASE("thousands of entries of one transaction stand in the file as entries made one by one do") {
    small_ledger at_once, one_by_one;
    const auto indexes = indexes_in(at_once.file());
    {
        ledger::writer writing{at_once.file(), at_once.around()};
        writing.begin({"intake"});
        append_growers(writing, 0, many);
        writing.append(site_row("S1", "Old Creamery"));
        for (int i = 0; i < many; ++i)
            writing.append(site_row(fmt::format("X{}", i), "Lot"));
        writing.append_void(kind::site, many + 1);
        writing.commit();
    }
    CHECK(at_once.file().head().seq == 2 * many + 2);
    CHECK(what_is_unsound(at_once.file()).empty());
    CHECK(indexes_in(at_once.file()) == indexes);
    {
        ledger::writer writing{one_by_one.file(), one_by_one.around()};
        writing.begin({"intake"});
        for (int i = 0; i < many; ++i) {
            append_growers(writing, i, i + 1);
            CHECK(one_by_one.file().head().seq == i + 1); // what is read is written before
        }
        writing.commit();
    }
    CHECK(one_by_one.file().head().hash == at_once.file().head_at(many).hash);
    CHECK(what_is_unsound(one_by_one.file()).empty());
    CHECK(one_by_one.in_force(kind::grower, many) == at_once.in_force(kind::grower, many));
}

TEST_CASE("thousands of entries that are not committed leave nothing behind, not even their indexes' absence") {
    small_ledger small;
    small.record(site_row("S0", "Mill"));
    const auto before = bytes_in(small.path());
    {
        ledger::writer writing{small.file(), small.around()};
        writing.begin({"intake"});
        append_growers(writing, 0, many);
    }
    CHECK(bytes_in(small.path()) == before);
    CHECK(what_is_unsound(small.file()).empty());
    CHECK(small.record(site_row("S2", "Nursery lot")) == 2);
}

TEST_CASE("a row that the file refuses among thousands fails the whole, and nothing is written after it") {
    small_ledger small;
    const auto before = bytes_in(small.path());
    {
        ledger::writer writing{small.file(), small.around()};
        writing.begin({"intake"});
        // Entry 9 replaces one that is not there yet: the journal's foreign key.
        const auto broken = [&] {
            append_growers(writing, 0, 8);
            writing.append(site_row("S1", "Mill"), ledger::deed::correct, 9'999'999);
            append_growers(writing, 8, many);
            writing.commit();
        };
        CHECK_THROWS_AS(broken(), records::ledger_error);
        CHECK_THROWS_AS(writing.commit(), records::ledger_error);
    }
    CHECK(bytes_in(small.path()) == before);
    CHECK(what_is_unsound(small.file()).empty());
}

TEST_CASE("a table that has rows keeps its indexes while thousands come to it") {
    small_ledger small;
    for (int round = 0; round < 2; ++round) {
        ledger::writer writing{small.file(), small.around()};
        writing.begin({"intake"});
        append_growers(writing, round * many, (round + 1) * many);
        writing.commit();
    }
    CHECK(what_is_unsound(small.file()).empty());
    std::string found;
    small.file().for_each_with(kind::grower, "grower", fmt::format("G{:05}", 4000 * 7919 % 100'000), 2 * many,
                               [&](const ledger::stored_row& stored) { found = stored.values[1]; });
    CHECK(found == "Grower 4000");
}
