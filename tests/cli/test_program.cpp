#include "quiet_season.hpp"

#include <catch2/catch.hpp>

#include <cstdlib>
#include <sys/wait.h>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;

namespace {

struct ended {
    int code = -1;
    std::string out, err;
};

/// Runs the built program through a shell, its outputs into files of the folder.
ended program(const temporary_folder& folder, const std::string& arguments, const std::string& out = {}) {
    const auto to = out.empty() ? folder.file("out.txt") : out;
    const auto line = fmt::format("unset TAREWELL_LEDGER; cd '{}' && '{}' {} >'{}' 2>'{}'", folder.path(),
                                  program_path(), arguments, to, folder.file("err.txt"));
    const int status = std::system(line.c_str()); // NOLINT(concurrency-mt-unsafe): one thread, no user input
    return {WIFEXITED(status) ? WEXITSTATUS(status) : -1, out.empty() ? bytes_in(to) : std::string{},
            bytes_in(folder.file("err.txt"))};
}

} // namespace

TEST_CASE("the program refuses a bad file with 65, its faults on stderr and nothing on stdout") {
    const temporary_folder folder;
    REQUIRE(program(folder, "new basin.tarewell").code == 0);
    std::filesystem::create_directory(folder.file("season"));
    for (const auto& [name, text] : quiet_season())
        folder.write("season/" + name, text);
    REQUIRE(program(folder, "--ledger basin.tarewell intake season season").code == 0);
    folder.write("tickets.csv",
                 "ticket,date,scale,weighs,subject,gross,tare,net,unit,entry\n"
                 "T8,2026-05-23,P1,bale,L2,150,40,109,lb,printed\nT9,2026-05-23,P7,bale,L2,,,110,lb,printed\n");
    const auto refused = program(folder, "--ledger basin.tarewell intake tickets tickets.csv");
    CHECK(refused.code == 65);
    CHECK(refused.out.empty());
    CHECK_THAT(refused.err, StartsWith("tickets.csv:2:net: 109 is not gross 150 less tare 40, which is 110; "));
    CHECK_THAT(refused.err, Contains("\ntickets.csv:3:scale: no scale 'P7' is defined; ") &&
                                Contains("\nrefused: 2 faults; nothing was changed\n"));
    CHECK_THAT(refused.err, !Contains("\r") && !Contains("\x1b")); // no progress but on a terminal
    CHECK(program(folder, "--ledger basin.tarewell list tickets --csv").out.find("T8") == std::string::npos);
}

TEST_CASE("the program ends with 74 when its output cannot be written") {
    const temporary_folder folder;
    if (!std::filesystem::exists("/dev/full")) return;
    const auto ended = program(folder, "estimate --length 96 --width 30", "/dev/full");
    CHECK(ended.code == 74);
    CHECK_THAT(ended.err, Contains("the output could not be written"));
}

TEST_CASE("the program's usage error is 2 and its help is 0") {
    const temporary_folder folder;
    const auto wrong = program(folder, "weigh");
    CHECK(wrong.code == 2);
    CHECK(wrong.out.empty());
    CHECK_FALSE(wrong.err.empty());
    const auto help = program(folder, "--help");
    CHECK(help.code == 0);
    CHECK(help.err.empty());
}
