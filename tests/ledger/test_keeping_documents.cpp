#include "ledger/load_season.hpp"
#include "base_season.hpp"
#include "terminal.hpp"
#include "figures/soundness.hpp"
#include "intake/keeping.hpp"
#include "ledger/keeping.hpp"
#include "records/season.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;
using records::kind;

namespace {

namespace fs = std::filesystem;

/// The base season and a scan of its ticket.
struct documented_basin : base_season {
    std::string scan = folder().write("scan of T1.jpg", std::string{"scanned\0bytes", 13});
    documented_basin() { take_all(); }
    records::entry_no attach(const std::string& kind_name, const std::string& key, const std::string& file) {
        return intake::attach(ledger(), kind_name, key, file, around());
    }
    [[nodiscard]] std::string kept() { return intake::documents_folder(ledger()) + "/" + ledger::sha256_of_file(scan); }
    [[nodiscard]] terminal at() { return terminal{ledger().path()}; }
};

} // namespace

TEST_CASE("a document is kept by its hash beside the ledger, and the hash is in the chain") {
    documented_basin basin;
    const auto entry = basin.attach("ticket", "T1", basin.scan);
    CHECK(entry == basin.head());
    CHECK(bytes_in(basin.kept()) == bytes_in(basin.scan));
    const auto season = load_season(basin.ledger(), basin.head());
    REQUIRE(season.documents.size() == 1);
    CHECK(season.documents[0].record == "ticket T1");
    CHECK(season.documents[0].name == "scan of T1.jpg");
    CHECK(season.documents[0].sha256 == ledger::sha256_of_file(basin.scan));
    CHECK(season.documents[0].bytes == 13);
    CHECK(figures::unsound_in(basin.ledger()).empty());
}

TEST_CASE("a document attached twice to a record changes nothing, and may belong to two records") {
    documented_basin basin;
    basin.attach("ticket", "T1", basin.scan);
    const auto head = basin.head();
    CHECK(basin.attach("ticket", "T1", basin.scan) == 0);
    CHECK(basin.head() == head);
    CHECK(basin.attach("cost", "C1", basin.scan) == head + 1);
    CHECK(std::distance(fs::directory_iterator{intake::documents_folder(basin.ledger())}, fs::directory_iterator{}) ==
          1);
    const auto other = basin.folder().write("back of T1.jpg", "the other side");
    CHECK(basin.attach("ticket", "T1", other) == head + 2);
}

TEST_CASE("a document of no record, of no kind, or without a file is refused and nothing is kept") {
    documented_basin basin;
    const auto head = basin.head();
    CHECK_THAT(message_of<records::input_error>([&] { basin.attach("ticket", "T99", basin.scan); }),
               Contains("holds no ticket T99"));
    CHECK_THAT(message_of<records::input_error>([&] { basin.attach("photo", "T1", basin.scan); }),
               Contains("'photo' is no kind of record"));
    CHECK_THROWS_AS(basin.attach("closing", "2026-Q2", basin.scan), records::input_error);
    CHECK_THROWS_AS(basin.attach("ticket", "T1", basin.folder().file("nowhere.jpg")), records::io_error);
    CHECK_THROWS_AS(basin.attach("ticket", "T1", basin.folder().path()), records::io_error);
    CHECK(basin.head() == head);
    CHECK_FALSE(fs::exists(intake::documents_folder(basin.ledger())));
}

TEST_CASE(
    "a document's copy that is missing, changed or cut is found, and attaching the file again mends a missing one") {
    documented_basin basin;
    const auto entry = basin.attach("ticket", "T1", basin.scan);
    const auto found = [&](const std::string& what) {
        const auto findings = figures::unsound_in(basin.ledger());
        REQUIRE(findings.size() == 1);
        CHECK_THAT(findings[0],
                   Contains(fmt::format("entry {}: the document 'scan of T1.jpg' of ticket T1 {}", entry, what)));
        CHECK(basin.at().tell({"ledger", "check"}).code == cli::findings);
    };
    for (const auto& bytes : {std::string{"scanned\0bytez", 13}, std::string{"scanned"}, std::string{}}) {
        std::ofstream{basin.kept(), std::ios::binary | std::ios::trunc} << bytes;
        found("was changed");
    }
    fs::remove(basin.kept());
    found("is missing");
    CHECK(basin.attach("ticket", "T1", basin.scan) == 0);
    CHECK(figures::unsound_in(basin.ledger()).empty());
}

TEST_CASE("a changed copy stops the attaching that would rely on it") {
    documented_basin basin;
    basin.attach("ticket", "T1", basin.scan);
    std::ofstream{basin.kept(), std::ios::binary | std::ios::trunc} << "other";
    const auto head = basin.head();
    CHECK_THROWS_AS(basin.attach("cost", "C1", basin.scan), records::io_error);
    CHECK(basin.head() == head);
}

TEST_CASE("records of costs, tickets, rejects and acceptances without a document are listed") {
    documented_basin basin;
    const auto before = basin.at().tell({"document", "list", "--missing"});
    CHECK(before.code == cli::findings);
    CHECK_THAT(before.out,
               Contains("ticket T1") && Contains("cost C1") && Contains("reject J1") && Contains("acceptance SH1"));
    for (const auto& [kind_name, key] :
         {std::pair{"ticket", "T1"}, {"cost", "C1"}, {"reject", "J1"}, {"acceptance", "SH1"}})
        basin.attach(kind_name, key, basin.scan);
    CHECK(basin.at().tell({"document", "list", "--missing"}).code == cli::done);
    CHECK_THAT(basin.at().done({"document", "list"}), Contains("acceptance SH1") && Contains("scan of T1.jpg"));
}

TEST_CASE("the evidence folder holds the documents, also those attached after the closing, and refuses to be made "
          "without one") {
    documented_basin basin;
    basin.attach("ticket", "T1", basin.scan);
    const auto at = basin.at();
    REQUIRE(at.close("2026-Q2").code == cli::done);
    const auto late = basin.folder().write("bill.pdf", "a bill, late");
    basin.attach("cost", "C1", late);
    const auto folder = basin.folder().file("evidence");
    (void)at.done({"ledger", "evidence", "2026-Q2", folder});
    for (const auto& file : {basin.scan, late}) {
        const auto hash = ledger::sha256_of_file(file);
        CHECK(bytes_in(folder + "/documents/" + hash) == bytes_in(file));
        CHECK_THAT(bytes_in(folder + "/manifest.sha256"), Contains(hash + "  documents/" + hash));
        CHECK_THAT(bytes_in(folder + "/documents.csv"), Contains(hash));
    }
    fs::remove(basin.kept());
    const auto again = basin.folder().file("again");
    const auto said = at.tell({"ledger", "evidence", "2026-Q2", again});
    CHECK(said.code == cli::input_output);
    CHECK_THAT(said.err, Contains("scan of T1.jpg") && Contains("ticket T1"));
    CHECK_FALSE(fs::exists(again));
    CHECK_FALSE(fs::exists(again + ".partial"));
}

TEST_CASE("a document that was changed does not go into an evidence folder as if it were the one attached") {
    documented_basin basin;
    basin.attach("ticket", "T1", basin.scan);
    std::ofstream{basin.kept(), std::ios::binary | std::ios::trunc} << "other";
    const auto folder = basin.folder().file("evidence");
    CHECK(basin.at().tell({"ledger", "evidence", "2026-Q2", folder}).code == cli::input_output);
    CHECK_FALSE(fs::exists(folder));
}
