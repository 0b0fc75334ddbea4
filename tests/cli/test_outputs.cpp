#include "clerk.hpp"

#include <catch2/catch.hpp>
#include <filesystem>
#include <sys/stat.h>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;

namespace {

/// Every command that writes a file, writing to `path`.
std::vector<std::vector<std::string>> writers_to(const std::string& path) {
    return {{"quarter", "page", "2026-Q2", path},
            {"quarter", "workbook", "2026-Q2", path},
            {"report", "certification", "2026-Q2", path},
            {"report", "certification", "2026-Q2", path, "--json"},
            {"growers", "export", path},
            {"audit", "page", path}};
}

} // namespace

TEST_CASE("no output is ever written over a ledger, its journal, or another database") {
    quiet_clerk at;
    const auto before = bytes_in(at.ledger_path());
    const auto link = at.folder().file("link");
    std::filesystem::create_symlink(at.ledger_path(), link);
    for (const auto& path : {at.ledger_path(), at.folder().path() + "/./basin.tarewell", link,
                             at.ledger_path() + "-journal", at.ledger_path() + "-wal"})
        for (const auto& command : writers_to(path)) {
            CAPTURE(command);
            const auto refused = at.run(command);
            CHECK(refused.code == cli::bad_input);
            CHECK_THAT(refused.err, Contains("never written over; name another file"));
            CHECK(bytes_in(at.ledger_path()) == before);
        }
    CHECK_FALSE(std::filesystem::exists(at.ledger_path() + "-wal"));
}

TEST_CASE("a pipe or device is not replaced by a file") {
    quiet_clerk at;
    const auto pipe = at.folder().file("pipe");
    REQUIRE(::mkfifo(pipe.c_str(), 0600) == 0);
    for (const auto& command : writers_to(pipe)) {
        CAPTURE(command);
        CHECK(at.run(command).code == cli::input_output);
        CHECK(std::filesystem::is_fifo(pipe));
    }
}

TEST_CASE("an output through a link leaves the link, and the file at its end is whole") {
    quiet_clerk at;
    const auto target = at.folder().write("target.html", "an older page"), link = at.folder().file("page.html");
    std::filesystem::create_symlink(target, link);
    at.must({"quarter", "page", "2026-Q2", link});
    CHECK(std::filesystem::is_symlink(link));
    CHECK_THAT(bytes_in(target), Contains("</html>"));
}

TEST_CASE("text that no ledger should hold is refused by record and correct alike, and in who and why") {
    quiet_clerk at;
    at.must({"quarter", "note", "2026-Q2", "done", "Pressed."});
    const auto head = at.head();
    for (const std::string bad : {"a\xff"
                                  "b",
                                  "a\x01"
                                  "b",
                                  "\xed\xa0\x80"}) {
        for (const std::vector<std::string>& command :
             std::vector<std::vector<std::string>>{{"correct", "cost", "C1", "--description", bad, "--why", "x"},
                                                   {"correct", "site", "S1", "--name", bad, "--why", "x"},
                                                   {"correct", "cost", "C1", "--description", "sorted", "--why", bad},
                                                   {"quarter", "note", "2026-Q2", "done", bad},
                                                   {"quarter", "note", "2026-Q2", "next", bad},
                                                   {"settings", "set", "bundle_aim_lb", "45", "--why", bad},
                                                   {"--who", bad, "settings", "set", "bundle_aim_lb", "45"},
                                                   {"void", "inkind", "I1", "--why", bad}}) {
            CAPTURE(command);
            CHECK(at.run(command).code == cli::bad_input);
            CHECK(at.head() == head);
        }
    }
    CHECK(at.run({"ledger", "check"}).code == cli::done);
}

TEST_CASE("the trace of a figure says what of it stands on no row") {
    quiet_clerk at;
    const auto traced = at.run({"trace", "line_10e", "--quarter", "2026-Q2", "--json"}).json();
    CHECK(traced["value"] == "110.55");
    CHECK(traced["on_no_row"] == "10.05"); // 10 % of 100.50
    CHECK(traced["unit_of_adds"] == "$");
    CHECK_THAT(at.must({"trace", "line_10e", "--quarter", "2026-Q2"}),
               Contains("on no row, since a percent or a limit gives it: 10.05 $"));
    const auto whole = at.run({"trace", "grant_spent", "--quarter", "2026-Q2", "--json"}).json();
    CHECK_FALSE(whole.contains("on_no_row"));
    const auto ends = [&](const char* figure) {
        const auto text = at.must({"trace", figure, "--quarter", "2026-Q2"});
        return text.substr(text.rfind("on no row"));
    };
    CHECK(ends("grant_spent") == "on no row: nothing; the rows add up to the figure\n");
    CHECK(ends("match_required") == "on no row, since a percent or a limit gives it: 27.64 $\n"); // 110.55 x 20/80
    CHECK(ends("growers_served") == "on no row: nothing; the rows add up to the figure\n");
    CHECK(ends("diverted_tons") == "on no row: nothing; the figure is worked out from what they add\n");
    CHECK(ends("goal_share") == "on no row: the whole; its rows decide it and add nothing to it\n");
    CHECK(at.run({"trace", "diverted_tons", "--quarter", "2026-Q2", "--json"}).json()["unit_of_adds"] == "lb");
}
