#include "clerk.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;

namespace {

struct described {
    std::vector<std::string> words; ///< "record", "ticket"
    cli::described_command of;
};

void describe(const cli::described_command& command, std::vector<std::string> words, std::vector<described>& into) {
    into.push_back({words, command});
    for (const auto& below : command.below) {
        auto longer = words;
        longer.push_back(below.name);
        describe(below, longer, into);
    }
}

std::vector<cli::described_command> commands_of(const std::vector<cli::table_entry>& table) {
    std::ostringstream out, err;
    cli::context with{out, err, false, [](const std::string&) { return std::string{}; }, standing_still()};
    cli::command_line line{"tarewell", "one or more commands"};
    for (const auto& each : table)
        each.add(line.root(), with);
    return line.commands();
}

/// Every command and subcommand of the table of commands.
std::vector<described> all_commands() {
    std::vector<described> all;
    for (const auto& command : commands_of(cli::commands()))
        describe(command, {command.name}, all);
    return all;
}

} // namespace

TEST_CASE("every command and subcommand explains itself and each of its options, on stdout alone") {
    clerk at;
    const auto all = all_commands();
    CHECK(all.size() > 60);
    for (const auto& each : all) {
        auto arguments = each.words;
        arguments.emplace_back("--help");
        const auto help = at.run(arguments);
        CAPTURE(each.words, help.out);
        CHECK(help.code == cli::done);
        CHECK(help.err.empty());
        CHECK_FALSE(each.of.what.empty());
        CHECK_THAT(help.out, Contains(each.of.what.substr(0, 20)));
        for (const auto& option : each.of.options)
            CHECK_THAT(help.out, Contains(option.name));
    }
    CHECK_FALSE(std::filesystem::exists(at.ledger_path()));
}

TEST_CASE("the program's help names every command and the exit codes") {
    clerk at;
    const auto help = at.run({"--help"});
    CHECK(help.code == cli::done);
    for (const auto& each : cli::commands())
        CHECK_THAT(help.out, Contains(fmt::format("\n  {} ", each.name)));
    CHECK_THAT(help.out,
               Contains("65 bad input") && Contains("74") && Contains("75") && Contains("wire is under tension"));
}

TEST_CASE("each command of the table adds the subcommand of its name") {
    for (const auto& each : cli::commands()) {
        const auto added = commands_of({each});
        REQUIRE(added.size() == 1);
        CHECK(added[0].name == each.name);
    }
}
