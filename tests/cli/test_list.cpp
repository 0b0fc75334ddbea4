#include "clerk.hpp"
#include "intake/csv.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;
using Catch::Matchers::EndsWith;
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
    CHECK(lines == 5);
    CHECK_THAT(table, EndsWith("\n\n2 tickets\n"));
}

TEST_CASE("a list is narrowed to a site, a grower, days and words, and says how many of how many") {
    quiet_clerk at;
    const auto ids = [&](const std::vector<std::string>& more, const char* kind, const char* key) {
        std::vector<std::string> all{"list", kind, "--json"}, found;
        all.insert(all.end(), more.begin(), more.end());
        for (const auto& each : at.run(all).json())
            found.push_back(each[key]);
        return found;
    };
    using strings = std::vector<std::string>;
    CHECK(ids({"--grower", "Ib Orn"}, "bundles", "bundle") == strings{"B4", "B5"});
    CHECK(ids({"--grower", "G1"}, "covers", "registration") == strings{"R1"});
    CHECK(ids({"--grower", "ruth"}, "receipts", "receipt") == strings{"RC1", "RC2", "RC3"});
    CHECK(ids({"--grower", "G2", "--to", "2026-05-13"}, "receipts", "receipt") == strings{"RC4"});
    CHECK(ids({"--grower", "G2"}, "tickets", "ticket") == strings{"T1", "T2"}); // each bale holds film of both
    CHECK(ids({"--site", "nursery"}, "bales", "bundle").size() == 5);
    CHECK(ids({"--site", "S2"}, "receipts", "receipt").empty()); // received at S1, though baled at S2
    CHECK(ids({"--site", "S1"}, "bundles", "bundle").size() == 5);
    CHECK(ids({"--from", "2026-05-21", "--to", "2026-05-21"}, "bales", "bundle") == strings{"B3", "B5"});
    CHECK(ids({"--from", "2026-05-02"}, "bundles", "bundle") == strings{"B4", "B5"}); // a registration's day
    CHECK(ids({"--words", "orn CREAMERY"}, "covers", "registration") == strings{"R2"});
    CHECK(ids({"--words", "mill"}, "sites", "site") == strings{"S3"});
    CHECK_THAT(at.must({"list", "bundles", "--grower", "G2"}), EndsWith("\n2 of 5 bundles, claimed weight 86.4 lb\n"));
    CHECK_THAT(at.must({"list", "tickets", "--words", "L1"}), EndsWith("\n1 of 2 tickets\n"));
    CHECK_THAT(at.must({"list", "receipts", "--csv", "--grower", "G2"}), Contains("RC4") && !Contains("RC1"));
    CHECK(at.run({"list", "sites", "--from", "2026-05-02"}).code == cli::bad_input);
    CHECK_THAT(at.run({"list", "bales", "--to", "5/2/2026"}).err,
               Contains("--to: '5/2/2026' is not written as a date"));
}

TEST_CASE("a list of registrations and bundles shows what they claim") {
    clerk at;
    // C: 96 x 30 x 1.5 x .04 = 172.8 lb; a second cover of 48 x 30 adds 86.4 lb; 259.2 lb in three bundles.
    at.take(added(quiet_season(), "covers.csv", "R1,2026-05-01,G1,S1,2,48,30,1,\n"));
    const auto bundles = at.run({"list", "bundles", "--json"}).json();
    CHECK(bundles[0]["claim"] == "86.400");
    const auto covers = at.run({"list", "covers", "--json"}).json();
    REQUIRE(covers.size() == 3);
    CHECK(covers[0]["registration_claim"] == "259.200");
    CHECK(covers[2]["registration_claim"] == "259.200");
    const auto table = at.must({"list", "covers"});
    CHECK_THAT(table, EndsWith("\n3 covers of 2 registrations, claimed weight 345.6 lb\n"));
    CHECK(table.find("259.200") == table.rfind("259.200")); // told once: a sum of the column is the whole
}
