#include "clerk.hpp"
#include "intake/csv.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;

TEST_CASE("a list as CSV escapes what a spreadsheet would take for a formula") {
    // The four signs that begin a formula in common spreadsheets (common practice, no source).
    for (const auto* text : {"=HYPERLINK(A1)", "+1+1", "-2+3", "@SUM(A1)"}) {
        CAPTURE(text);
        clerk at;
        at.take(changed(changed(quiet_season(), "sites.csv", "Old Creamery", text), "sites.csv", "Mill yard", "a = b"));
        const auto csv = at.must({"list", "sites", "--csv"});
        CHECK_THAT(csv, Contains(fmt::format("\nS1,'{},Wend,", text)));
        CHECK_THAT(csv, Contains("\nS3,a = b,Fen,"));
        CHECK(at.run({"list", "sites", "--json"}).json()[0]["name"] == text); // for machines: as it stands
    }
}

TEST_CASE("a list as CSV leaves numbers below 0 as they are") {
    clerk at;
    at.take(added(quiet_season(), "costs.csv", "C2,2026-05-03,personnel,\"=twine, returned\",-3.20,grant,\n"));
    CHECK_THAT(at.must({"list", "costs", "--csv"}),
               Contains("C2,2026-05-03,personnel,\"'=twine, returned\",,-3.20,grant"));
}

TEST_CASE("a list as CSV is a file that can be taken in again") {
    quiet_clerk at;
    for (const auto* kind : {"award", "sites", "growers", "scales", "covers", "bundles", "receipts", "hauls", "bales",
                             "shipments", "tickets", "acceptances", "budget", "costs", "inkind"}) {
        CAPTURE(kind);
        const auto path = at.folder().write(fmt::format("{}.csv", kind), at.must({"list", kind, "--csv"}));
        CHECK_THAT(at.must({"intake", kind, path}), Contains("nothing changed"));
    }
}

TEST_CASE("a list shows what is in force, or what was as of an entry") {
    quiet_clerk at;
    const auto before = at.head();
    at.must({"void", "cost", "C1", "--why", "entered twice"});
    CHECK(at.run({"list", "costs", "--json"}).json().empty());
    const auto then = at.run({"list", "costs", "--json", "--as-of", fmt::format("{}", before)}).json();
    REQUIRE(then.size() == 1);
    CHECK(then[0]["cost"] == "C1");
    CHECK(then[0]["seq"].is_number_integer());
    CHECK(then[0]["payee"].is_null());
}

TEST_CASE("a list as a table has the sequence and every column, words to the left and numbers to the right") {
    quiet_clerk at;
    const auto table = at.must({"list", "tickets"});
    CHECK_THAT(table, StartsWith("seq  ticket        date  scale"));
    CHECK_THAT(table, Contains("gross  tare  net  unit") && Contains("  190    40  150  lb"));
    std::size_t lines = 0;
    for (const char c : table)
        lines += c == '\n' ? 1 : 0;
    CHECK(lines == 3);
}
