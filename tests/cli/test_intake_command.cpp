#include "clerk.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;
using Catch::Matchers::EndsWith;
using Catch::Matchers::StartsWith;

namespace {

const char* const two_costs = "cost,date,category,description,amount,fund\nC2,2026-06-01,travel,van,12.50,grant\nC3,"
                              "2026-06-02,travel,van,13,grant\n";

std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> lines;
    std::istringstream in{text};
    for (std::string line; std::getline(in, line);)
        lines.push_back(line);
    return lines;
}

} // namespace

TEST_CASE("a file that is taken in says how many rows and entries it made, on stdout") {
    quiet_clerk at;
    const auto head = at.head();
    const auto done = at.run({"intake", "costs", at.folder().write("costs.csv", two_costs)});
    CHECK(done.code == cli::done);
    CHECK_THAT(done.err, StartsWith("raised: 0 block closing, "));
    CHECK_THAT(done.out, EndsWith(fmt::format("costs.csv: 2 taken in (entries {} to {})\n", head + 1, head + 2)));
}

TEST_CASE("a file taken in again changes nothing and says so") {
    quiet_clerk at;
    const auto path = at.folder().write("costs.csv", two_costs);
    at.must({"intake", "costs", path});
    const auto head = at.head();
    const auto again = at.run({"intake", "costs", path});
    CHECK(again.code == cli::done);
    CHECK_THAT(again.out, Contains("0 taken in, 2 known already") &&
                              EndsWith("nothing changed: the ledger holds all of it already\n"));
    CHECK(at.head() == head);
    CHECK_THAT(at.must({"intake", "season", at.folder().file("season")}),
               EndsWith("nothing changed: the ledger holds all of it already\n"));
    CHECK(at.head() == head);
}

TEST_CASE("a dry run checks everything and writes nothing") {
    quiet_clerk at;
    const auto head = at.head();
    const auto path = at.folder().write("costs.csv", two_costs);
    CHECK_THAT(at.must({"intake", "costs", path, "--dry-run"}),
               Contains("2 would be taken in") && EndsWith("dry run: nothing was changed\n"));
    CHECK(at.head() == head);
    const auto refused =
        at.run({"intake", "costs", at.folder().write("bad.csv", "cost,date\nC9,2026-06-01\n"), "--dry-run"});
    CHECK(refused.code == cli::bad_input);
    CHECK(refused.out.empty());
    CHECK(at.head() == head);
    CHECK_THAT(at.must({"intake", "costs", path}), Contains("2 taken in"));
}

TEST_CASE("a refused file lists every bad row by line and column on stderr, and nothing is taken in") {
    quiet_clerk at;
    const auto head = at.head();
    const auto path =
        at.folder().write("costs.csv", "cost,date,category,description,amount,fund\n"
                                       "C2,2026-06-31,travel,van,12.50,grant\nC3,2026-06-02,travel,van,13,grant\n"
                                       "C4,2026-06-02,fuel,van,13.005,grant\n");
    const auto refused = at.run({"intake", "costs", path});
    CHECK(refused.code == cli::bad_input);
    CHECK(refused.out.empty());
    const auto lines = lines_of(refused.err);
    REQUIRE(lines.size() == 4);
    CHECK_THAT(lines[0], StartsWith(path + ":2:date: ") && Contains("; "));
    CHECK_THAT(lines[1], StartsWith(path + ":4:category: "));
    CHECK_THAT(lines[2], StartsWith(path + ":4:amount: "));
    CHECK(lines[3] == "refused: 3 faults; nothing was changed");
    CHECK(at.head() == head);
}

TEST_CASE("a season with one bad file is refused as a whole, with the faults of all its files") {
    clerk at;
    at.must({"new", at.ledger_path()});
    std::filesystem::create_directory(at.folder().file("season"));
    auto files =
        changed(changed(quiet_season(), "costs.csv", "100.50", "1O0.50"), "receipts.csv", "B5,accepted", "B5,taken");
    for (const auto& [name, text] : files)
        at.folder().write("season/" + name, text);
    const auto refused = at.run({"intake", "season", at.folder().file("season")});
    CHECK(refused.code == cli::bad_input);
    CHECK_THAT(refused.err,
               Contains("receipts.csv:6:outcome: ") && Contains("costs.csv:2:amount: ") && Contains("2 faults"));
    CHECK(at.head() == 0);
}

TEST_CASE("a folder without any of a season's files is bad input") {
    clerk at;
    at.must({"new", at.ledger_path()});
    CHECK_THAT(at.run({"intake", "season", at.folder().path()}).err, Contains("holds none of a season's files"));
    CHECK(at.run({"intake", "season", at.folder().path()}).code == cli::bad_input);
}

TEST_CASE("a correction made since is told when the file is taken in again") {
    quiet_clerk at;
    at.must({"correct", "cost", "C1", "--amount", "99", "--why", "misread"});
    CHECK_THAT(at.must({"intake", "season", at.folder().file("season")}),
               Contains("cost C1") && Contains("was corrected by entry"));
    CHECK(at.run({"list", "costs", "--json"}).json()[0]["amount"] == "99");
}
