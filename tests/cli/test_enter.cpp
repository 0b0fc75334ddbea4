#include "desk/next_record.hpp"
#include "typed.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;

namespace {

/// What a person types, line by line, and what was asked.
struct sitting {
    answered done;
    std::string talk;

    sitting(quiet_clerk& at, const std::string& kind, const std::vector<std::string>& lines,
            const std::vector<bool>& yes = {})
        : done{typed_at(at, {"enter", kind}, lines, yes)}, talk{done.err} {}
};

/// Registration R3 of bundles B6 and B7.
void with_two_bundles(quiet_clerk& at) {
    at.must({"record", "cover", "--registration", "R3", "--date", "2026-05-05", "--grower", "G1", "--site", "S1",
             "--cover", "1", "--length_ft", "48", "--width_ft", "30", "--layers", "1"});
    for (const int number : {1, 2})
        at.must({"record", "bundle", "--bundle", fmt::format("B{}", 5 + number), "--registration", "R3", "--number",
                 std::to_string(number), "--of", "2"});
}

} // namespace

TEST_CASE("receipts are entered field by field: the next id, today, a site by its name, words by their beginning") {
    quiet_clerk at;
    with_two_bundles(at);
    // receipt, date, site, bundle, outcome; reason and disposition were never given and are not asked.
    const sitting seen{at, "receipts", {"", "2026-5-15", "2026-05-15", "mill", "B6", "a", "."}};
    CHECK(seen.done.code == cli::done);
    CHECK_THAT(seen.talk, Contains("Receipt [RC6]: ") && Contains("S3 (Mill yard)") && Contains("= accepted"));
    CHECK_THAT(seen.talk, !Contains("reason"));
    CHECK_THAT(seen.talk, Contains("1 recorded"));
    CHECK_THAT(at.must({"list", "receipts"}), Contains("RC6") && Contains("2026-05-15"));
}

TEST_CASE("what is wrong is told at its field and asked again; ? explains, < goes back, - leaves empty") {
    quiet_clerk at;
    const sitting seen{
        at,
        "costs",
        {"", "2026-13-01", "2026-05-09", "<", "2026-05-08", "travel", "?", "van", "5.005", "5.00", "grant", "-", "."}};
    CHECK_THAT(seen.talk, Contains("Cost [C2]: ") && Contains("2026-13-01"));
    CHECK_THAT(seen.talk, Contains("5.005"));
    const auto costs = at.must({"list", "costs"});
    CHECK_THAT(costs, Contains("C2") && Contains("2026-05-08") && Contains("5.00"));
}

TEST_CASE("a question mark at a record's own number names the next one, and a record that is broken off is told") {
    quiet_clerk at;
    const auto head = at.head();
    const sitting broken_off{at, "receipts", {"?", "", "2026-05-15"}};
    CHECK_THAT(broken_off.talk, Contains("a number of its own; Enter takes the next one, RC6") &&
                                    Contains("the receipt that was begun is not recorded"));
    CHECK(at.head() == head);
    CHECK_THAT((sitting{at, "receipts", {"."}}).talk, !Contains("begun"));
}

TEST_CASE("several bundles of a bale are typed at once, and undo takes them all back with a reason") {
    quiet_clerk at;
    with_two_bundles(at);
    for (const char* bundle : {"B6", "B7"})
        at.must({"record", "receipt", "--receipt", fmt::format("RC{}", bundle), "--date", "2026-05-20", "--site", "S1",
                 "--bundle", bundle, "--outcome", "accepted"});
    const auto before = at.head();
    const sitting seen{
        at, "bales", {"", "2026-06-01", "nursery", "B6, B7", "undo", "wrong yard", "undo", "again", "."}};
    CHECK_THAT(seen.talk, Contains("Bale [L3]: ") && Contains("S2 (Nursery lot)"));
    CHECK_THAT(seen.talk, Contains("1 recorded, 1 of them taken back") && Contains("nothing was recorded here"));
    CHECK(at.head() == before + 4);
    CHECK_THAT(at.must({"list", "bales"}), !Contains("L3"));
}

TEST_CASE("a doubt that blocks a closing is asked about, and what is held back is not recorded") {
    quiet_clerk at;
    at.must({"void", "ticket", "T2", "--why", "to enter it again"});
    const std::vector<std::string> lines{"", "2026-05-22", "", "bale", "L2", "1500", "40", "", "lb", "printed", "."};
    const sitting no{at, "tickets", lines, {false}};
    CHECK_THAT(no.talk, Contains("Net [1460]") && Contains("Record it all the same?") && Contains("0 recorded"));
    const sitting yes{at, "tickets", lines, {true}};
    CHECK_THAT(yes.talk, Contains("1 recorded"));
    CHECK_THAT(at.must({"list", "tickets"}), Contains("1460"));
}

TEST_CASE("what a rule refuses is said, and the fields keep what was typed") {
    quiet_clerk at;
    // B1 was received already.
    const sitting seen{at, "receipts", {"RC9", "5-20", "S1", "B1", "accepted", "", "", "", "B1", "held", "."}};
    CHECK_THAT(seen.talk, Contains("not recorded; look through it again") && Contains("Receipt [RC9]: "));
}

TEST_CASE("enter never asks under a pipe, and knows its kinds") {
    quiet_clerk at;
    const auto piped = at.run({"enter", "tickets"});
    CHECK(piped.code == cli::bad_input);
    CHECK_THAT(piped.err, Contains("enter asks a person at a terminal"));
    CHECK(at.run({"enter", "tickts"}).code == cli::usage);
}

TEST_CASE("a day is typed as people say it", "[desk]") {
    const auto typed = [](const char* text) { return desk::day_as_typed(text, "2026-10-03", "2026-09-28"); };
    CHECK(typed("today") == "2026-10-03");
    CHECK(typed("yesterday") == "2026-10-02");
    CHECK(typed("9-30") == "2026-09-30");
    CHECK(typed("10/1") == "2026-10-01");
    CHECK(typed("7") == "2026-09-07");
    CHECK(typed("2026-09-07") == "2026-09-07");
    for (const char* none : {"31", "13-1", "9-31", "x", "", "9-", "9-1-2", "99999999999999999999"})
        CHECK(typed(none) == none);
}

TEST_CASE("a ticket's unit is proposed from its scale, also when the scale is changed on the way") {
    quiet_clerk at;
    at.must({"record", "scale", "--scale", "P2", "--class", "III", "--capacity", "2000", "--division", "1", "--unit",
             "kg"});
    // ticket, date, scale, weighs, subject, gross, tare, net: back to the scale, another one, and on.
    const sitting seen{
        at, "tickets", {"", "2026-05-23", "P1", "bale", "L2", "<", "<", "<", "P2", "", "", "", "", "50", "."}};
    CHECK_THAT(seen.talk, Contains("Unit [kg]: ") && !Contains("Unit [lb]: "));
    const sitting other{at, "tickets", {"",  "2026-05-23", "P1", "bale", "L2", "", "", "50", "<", "<", "<",
                                        "<", "<",          "<",  "P2",   "",   "", "", "",   "",  "."}};
    CHECK_THAT(other.talk, Contains("Unit [lb]: ") && Contains("Unit [kg]: "));
}
