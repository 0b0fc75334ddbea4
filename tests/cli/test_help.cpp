#include "clerk.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;

namespace {

struct described {
    std::vector<std::string> words;   ///< "record", "ticket"
    std::vector<std::string> options; ///< "--gross"
    std::string about;
};

void describe(const CLI::App& command, std::vector<std::string> words, std::vector<described>& into) {
    described made{words, {}, command.get_description()};
    for (const auto* option : command.get_options()) {
        for (const auto& name : option->get_lnames())
            made.options.push_back("--" + name);
        if (option->get_positional()) made.options.push_back(option->get_name(true));
    }
    into.push_back(made);
    for (const auto* below : command.get_subcommands({})) {
        auto longer = words;
        longer.push_back(below->get_name());
        describe(*below, longer, into);
    }
}

/// Every command and subcommand of the table of commands.
std::vector<described> all_commands() {
    std::ostringstream out, err;
    cli::context with{out, err, false, [](const std::string&) { return std::string{}; }, standing_still()};
    std::vector<described> all;
    for (const auto& each : cli::commands()) {
        CLI::App program;
        each.add(program, with);
        for (const auto* command : program.get_subcommands({}))
            describe(*command, {command->get_name()}, all);
    }
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
        CHECK_FALSE(each.about.empty());
        CHECK_THAT(help.out, Contains(each.about.substr(0, 20)));
        for (const auto& option : each.options)
            CHECK_THAT(help.out, Contains(option));
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
    std::ostringstream out, err;
    cli::context with{out, err, false, [](const std::string&) { return std::string{}; }, standing_still()};
    for (const auto& each : cli::commands()) {
        CLI::App program;
        each.add(program, with);
        REQUIRE(program.get_subcommands({}).size() == 1);
        CHECK(program.get_subcommands({})[0]->get_name() == each.name);
    }
}
