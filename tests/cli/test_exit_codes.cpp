#include "clerk.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;

namespace {

/// A command that fails prints nothing on stdout and something on stderr.
answered failed(clerk& at, const std::vector<std::string>& arguments, int code) {
    const auto done = at.run(arguments);
    CAPTURE(arguments, done.out, done.err);
    CHECK(done.code == code);
    CHECK(done.out.empty());
    CHECK_FALSE(done.err.empty());
    return done;
}

} // namespace

TEST_CASE("a command that goes well says so on stdout, with nothing on stderr") {
    clerk at;
    const auto made = at.run({"new", at.ledger_path()});
    CHECK(made.code == cli::done);
    CHECK(made.out == "made an empty ledger: " + at.ledger_path() + "\n");
    CHECK(made.err.empty());
}

TEST_CASE("usage that is wrong exits with 2") {
    quiet_clerk at;
    failed(at, {}, cli::usage);
    CHECK_THAT(failed(at, {"weigh"}, cli::usage).err, Contains("'weigh' is no command; `tarewell --help` lists them"));
    failed(at, {"quarter"}, cli::usage);
    failed(at, {"quarter", "show"}, cli::usage);
    failed(at, {"quarter", "show", "2026-Q2", "--jsn"}, cli::usage);
    failed(at, {"intake", "balers", "x.csv"}, cli::usage);
    failed(at, {"reconcile", "--by", "haul"}, cli::usage);
    failed(at, {"record", "ticket", "--ticket", "T9"}, cli::usage);
    failed(at, {"void", "ticket", "T1"}, cli::usage); // without --why
    failed(at, {"list", "weights"}, cli::usage);
    failed(at, {"estimate", "--length", "96", "--width", "30", "--rise", "8", "--half-circle"}, cli::usage);
    failed(at, {"quarter", "show", "2026-Q2", "--as-of", "first"}, cli::usage);
    failed(at, {"trace", "--quarter", "2026-Q2", "--record", "ticket"}, cli::usage); // without --key
}

TEST_CASE("an option given twice is usage that is wrong") {
    quiet_clerk at;
    failed(at, {"correct", "cost", "C1", "--why", "a", "--why", "b"}, cli::usage);
    failed(at, {"--ledger", at.ledger_path(), "--ledger", at.ledger_path(), "list", "costs"}, cli::usage);
}

TEST_CASE("a command without a ledger to open exits with 65 and says how to name one") {
    clerk at;
    at.environment.clear();
    CHECK_THAT(failed(at, {"list", "costs"}, cli::bad_input).err,
               Contains("give --ledger FILE or set TAREWELL_LEDGER"));
    at.environment["TAREWELL_LEDGER"] = at.folder().file("none.tarewell");
    CHECK_THAT(failed(at, {"list", "costs"}, cli::bad_input).err, Contains("none.tarewell"));
}

TEST_CASE("a file that is no ledger is not opened, and one that is there is not made again") {
    clerk at;
    at.folder().write("basin.tarewell", "ticket,net\nT1,110\n");
    failed(at, {"list", "costs"}, cli::bad_input);
    CHECK_THAT(failed(at, {"new", at.ledger_path()}, cli::bad_input).err, Contains("basin.tarewell"));
    CHECK(bytes_in(at.ledger_path()) == "ticket,net\nT1,110\n");
}

TEST_CASE("--ledger wins over TAREWELL_LEDGER") {
    quiet_clerk at;
    const auto other = at.folder().file("other.tarewell");
    at.must({"new", other});
    CHECK(at.run({"--ledger", other, "list", "costs", "--json"}).json().empty());
    CHECK(at.run({"list", "costs", "--json"}).json().size() == 1);
    at.environment["TAREWELL_LEDGER"] = other;
    CHECK(at.run({"list", "costs", "--json", "--ledger", at.ledger_path()}).json().size() == 1);
}

TEST_CASE("a quarter that is not written as a quarter is bad input, wherever it is asked for") {
    quiet_clerk at;
    for (const auto* text : {"2026-Q5", "2026Q2", "Q2-2026", "2026-q2", "2026-Q2 ", "soon"})
        for (const auto& arguments :
             std::vector<std::vector<std::string>>{{"quarter", "show", text},
                                                   {"quarter", "workbook", text, at.folder().file("q.xlsx")},
                                                   {"trace", "diverted_weight", "--quarter", text},
                                                   {"reconcile", "--quarter", text},
                                                   {"flags", "--quarter", text}})
            CHECK_THAT(failed(at, arguments, cli::bad_input).err,
                       Contains(fmt::format("'{}' is no period; write a quarter as 2026-Q3", text)));
}

TEST_CASE("commands that show figures say that the award is missing") {
    clerk at;
    at.must({"new", at.ledger_path()});
    for (const auto& arguments : std::vector<std::vector<std::string>>{
             {"quarter", "show", "2026-Q2"}, {"reconcile"}, {"trace", "diverted_weight", "--quarter", "2026-Q2"}})
        CHECK_THAT(failed(at, arguments, cli::bad_input).err, Contains("no award yet; take in award.csv first"));
}

TEST_CASE("a sequence past the journal's end is bad input") {
    quiet_clerk at;
    for (const auto& arguments :
         std::vector<std::vector<std::string>>{{"quarter", "show", "2026-Q2", "--as-of", "99999"},
                                               {"list", "costs", "--as-of", "99999"},
                                               {"reconcile", "--as-of", "99999"}})
        failed(at, arguments, cli::bad_input);
}

TEST_CASE("a file that cannot be read or written exits with 74 and leaves nothing") {
    quiet_clerk at;
    const auto head = at.head();
    CHECK_THAT(failed(at, {"intake", "costs", at.folder().file("none.csv")}, cli::input_output).err,
               Contains("none.csv"));
    CHECK_THAT(failed(at, {"intake", "season", at.folder().file("none")}, cli::input_output).err,
               Contains("is not a folder"));
    CHECK_THAT(failed(at, {"quarter", "workbook", "2026-Q2", at.folder().file("none/q.xlsx")}, cli::input_output).err,
               Contains("there is no folder"));
    CHECK_THAT(failed(at, {"new", at.folder().file("none/basin.tarewell")}, cli::input_output).err, Contains("none"));
    CHECK(at.head() == head);
}

TEST_CASE("checks that find something exit with 1 and print it on stdout") {
    clerk at;
    at.take(changed(quiet_season(), "receipts.csv", "RC5,2026-05-14,S1", "RC5,2026-05-14,S2"));
    const auto flags = at.run({"flags"});
    CHECK(flags.code == cli::findings);
    CHECK(flags.err.empty());
    CHECK(flags.out == "other-site (note)\n  2026-05-14  Bundle B5 (2 of 2) was registered for site S1 and came to S2.\n\n"
                       "1 flag; flagged rows count in every figure\n");
    CHECK(at.run({"flags", "--quarter", "2026-Q3"}).code == cli::done);
    CHECK(at.run({"flags", "--code", "no-label"}).code == cli::done);
    const auto json = at.run({"flags", "--quarter", "2026-Q2", "--json"});
    CHECK(json.code == cli::findings);
    CHECK(json.json()["flags"][0]["code"] == "other-site");
    CHECK(json.json()["flags"][0]["rows"][0]["kind"] == "receipt");
}

TEST_CASE("a season without flags exits with 0, and the kinds of flag are listed without a ledger") {
    quiet_clerk at;
    const auto none = at.run({"flags"});
    CHECK(none.code == cli::done);
    CHECK(none.out == "0 flags; flagged rows count in every figure\n");
    at.environment.clear();
    CHECK_THAT(failed(at, {"flags", "--code", "no-such-flag"}, cli::bad_input).err,
               Contains("no flag is called 'no-such-flag'; see: tarewell flags --codes"));
    CHECK_THAT(at.must({"flags", "--codes"}),
               StartsWith("never-received") && Contains("net-as-printed") && Contains("blocks closing"));
}
