#include "ledger/load_season.hpp"
#include "closed_basin.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;
using records::kind;

namespace {

/// A ticket that prints another net than gross less tare: its flag blocks closing.
void print_another_net(closed_basin& basin) {
    basin.correct(kind::ticket, {"T1"}, {{"net", "111"}, {"as_printed", "yes"}});
}

const std::vector<std::string> close_spring{"quarter",       "close",          "2026-Q2",
                                            "--prepared-by", "Maud Ellery",    "--reviewed-by",
                                            "Dell Rourke",   "--certified-by", "Odile Fenn"};

std::vector<std::string> with(std::vector<std::string> arguments, std::initializer_list<std::string> more) {
    arguments.insert(arguments.end(), more);
    return arguments;
}

} // namespace

TEST_CASE("a flag that blocks closing stops it, names itself and how it is accepted, and nothing is written") {
    closed_basin basin;
    print_another_net(basin);
    const auto before = basin.head();
    const auto lines = basin.refusals_of([&] { basin.close(); });
    REQUIRE(lines.size() == 1);
    CHECK_THAT(lines[0], Contains("net-as-printed: ") && Contains("T1") && Contains("--accept net-as-printed='why'"));
    CHECK(basin.head() == before);
}

TEST_CASE("a stopping flag is accepted with a reason, which the closing keeps") {
    closed_basin basin;
    print_another_net(basin);
    CHECK_THAT(basin.refusals_of([&] {
                        basin.close(closed_basin::spring, {{"net-as-printed", ""}});
                    })
                   .at(0),
               Contains("gives no reason"));
    CHECK_THAT(basin.refusals_of([&] {
                        basin.close(closed_basin::spring, {{"net-as-printed", "x."}});
                    })
                   .at(0),
               Contains("--accept net-as-printed='x.' gives no reason that a reader can follow"));
    CHECK_THAT(basin.refusals_of([&] {
                        basin.close(closed_basin::spring, {{"residue-capped", "other flag"}});
                    })
                   .at(0),
               Contains("net-as-printed"));
    const auto entry = basin.close(closed_basin::spring, {{"net-as-printed", "the yard confirms it"}});
    CHECK(entry == basin.head());
    const auto season = load_season(basin.ledger(), basin.head());
    const auto* closing = season.closing_of(closed_basin::spring);
    REQUIRE(closing != nullptr);
    CHECK(closing->accepted == "net-as-printed=the yard confirms it\n");
    CHECK(closing->as_of == entry - 1);
    CHECK(closing->head_hash == ledger::hex(basin.ledger().head_at(entry - 1).hash));
    CHECK(closing->prepared_by == "Maud Ellery");
    CHECK(closing->reviewed_by == "Dell Rourke");
    CHECK(closing->certified_by == "Odile Fenn");
    CHECK_THAT(closing->figures, Contains("bale_net_weight=111.000\n"));
}

TEST_CASE("a stopping flag of another quarter stops nothing") {
    closed_basin basin;
    print_another_net(basin);
    const auto before = basin.head();
    CHECK(basin.close(closed_basin::summer) == before + 1);
}

TEST_CASE("a closing without one of its three signatures is refused") {
    closed_basin basin;
    for (const auto& signatures : {figures::closing_signatures{"", "b", "c"}, {"a", "", "c"}, {"a", "b", ""}}) {
        const auto lines = basin.refusals_of(
            [&] { figures::close_period(basin.ledger(), closed_basin::spring, signatures, {}, basin.around()); });
        REQUIRE(lines.size() == 1);
        CHECK_THAT(lines[0], Contains("is empty; name who did it"));
    }
    const auto at = basin.at_the_desk();
    CHECK(at.tell({"quarter", "close", "2026-Q2", "--prepared-by", "a", "--reviewed-by", "b"}).code == cli::usage);
    CHECK(at.tell({"quarter", "close", "2026-Q2", "--prepared-by", "a", "--reviewed-by", "b", "--certified-by", ""})
              .code == cli::bad_input);
}

TEST_CASE("at the desk a quarter is closed over a flag with its reason, and not with a word that is no stopping flag") {
    closed_basin basin;
    print_another_net(basin);
    const auto at = basin.at_the_desk();
    CHECK(at.tell(close_spring).code == cli::bad_input);
    for (const auto* accepted : {"net-as-printed", "estimate-off=why", "no-such-flag=why", "=why"}) {
        CAPTURE(accepted);
        const auto answer = at.tell(with(close_spring, {"--accept", accepted}));
        CHECK(answer.code == cli::bad_input);
        CHECK_THAT(answer.err, Contains("flags --codes"));
    }
    const auto before = basin.head();
    const auto said = at.done(with(close_spring, {"--accept", "net-as-printed=it prints a net = 111"}));
    CHECK_THAT(said, Contains(fmt::format("closed 2026-Q2 by entry {}; its report stands as of entry {}", before + 1,
                                          before)));
    CHECK_THAT(said, Contains(ledger::hex(basin.ledger().head_at(before).hash)));
    CHECK(load_season(basin.ledger(), before + 1).closings.at(0).accepted == "net-as-printed=it prints a net = 111\n");
}

TEST_CASE("a quarter is closed once") {
    closed_basin basin;
    basin.close();
    const auto before = basin.head();
    const auto lines = basin.refusals_of([&] { basin.close(); });
    REQUIRE(lines.size() == 1);
    CHECK_THAT(lines[0], Contains("2026-Q2 is closed already") && Contains("tarewell quarter restate 2026-Q2"));
    CHECK(basin.head() == before);
    CHECK(basin.at_the_desk().tell(close_spring).code == cli::bad_input);
}

TEST_CASE("a closing cannot be corrected, voided, recorded or taken in from a file") {
    closed_basin basin;
    basin.close();
    const auto at = basin.at_the_desk();
    const auto head = basin.head();
    CHECK(at.tell({"void", "closing", "2026-Q2", "--why", "x"}).code != cli::done);
    CHECK(at.tell({"correct", "closing", "2026-Q2", "--why", "x", "--prepared_by", "y"}).code != cli::done);
    CHECK(at.tell({"record", "closing", "--quarter", "2026-Q3"}).code != cli::done);
    const auto file =
        basin.folder().write("closings.csv", "quarter,as_of,head_hash,prepared_by,reviewed_by,certified_by,figures\n");
    CHECK(at.tell({"intake", "closing", file}).code != cli::done);
    CHECK(at.tell({"intake", "closings", file}).code != cli::done);
    CHECK(basin.head() == head);
}

TEST_CASE("records dated into a closed quarter are still taken, as late entries after its closing") {
    closed_basin basin;
    const auto closing = basin.close();
    const auto late = basin.cost("C9", "2026-06-30", "12.50");
    REQUIRE(late.size() == 1);
    CHECK(late[0] == closing + 1);
    CHECK(basin.figure("grant_spent") == "113.00");
    CHECK(basin.figure("grant_spent", closed_basin::spring, closing - 1) == "100.50");
    CHECK(basin.take(kind::receipt, "receipt,date,site,bundle,outcome\nRC9,2026-06-30,S1,B3,accepted\n").taken == 1);
}

TEST_CASE("a closed quarter is shown as filed, and as it stands when asked as of the head") {
    closed_basin basin;
    const auto at = basin.at_the_desk();
    const auto spent = [&](const std::vector<std::string>& more) {
        std::vector<std::string> arguments{"quarter", "show", "2026-Q2", "--json"};
        arguments.insert(arguments.end(), more.begin(), more.end());
        const auto shown = nlohmann::json::parse(at.done(arguments));
        for (const auto& each : shown["figures"])
            if (each["name"] == "grant_spent")
                return fmt::format("{} as of {}{}", each["value"].get<std::string>(), shown["as_of"].get<int>(),
                                   shown["closed"].get<bool>() ? ", closed" : "");
        return std::string{"no such figure"};
    };
    const auto filed = basin.head();
    CHECK(spent({}) == fmt::format("100.50 as of {}", filed));
    basin.close();
    CHECK(spent({}) == fmt::format("100.50 as of {}, closed", filed));
    basin.cost("C9", "2026-06-30", "12.50");
    CHECK(spent({}) == fmt::format("100.50 as of {}, closed", filed));
    CHECK(spent({"--as-of", std::to_string(basin.head())}) == fmt::format("113.00 as of {}", basin.head()));
    CHECK(spent({"--as-of", std::to_string(filed)}) == fmt::format("100.50 as of {}, closed", filed));
    CHECK(at.tell({"quarter", "show", "2026-Q2", "--as-of", "9999"}).code == cli::bad_input);
    CHECK_THAT(at.done({"quarter", "show", "2026-Q2"}), Contains("closed"));
}

TEST_CASE("a quarter that is not closed has nothing to restate") {
    closed_basin basin;
    CHECK_THAT(message_of<records::input_error>([&] { basin.restated(); }),
               Contains("2026-Q2 is not closed") && Contains("tarewell quarter close 2026-Q2"));
    const auto before = basin.head();
    basin.close();
    CHECK_THAT(message_of<records::input_error>([&] { figures::restate(basin.ledger(), closed_basin::spring, before); }),
               Contains("is not closed as of that entry"));
}
