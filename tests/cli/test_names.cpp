#include "clerk.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;

TEST_CASE("a record takes names for ids, and says on stderr whom it understood", "[names]") {
    quiet_clerk at;
    const auto done = at.run({"record", "cover", "--registration", "R9", "--date", "2026-06-01", "--grower", "ruth",
                              "--site", "creamery", "--cover", "1"});
    CHECK(done.code == cli::done);
    CHECK_THAT(done.err, StartsWith("grower G1 (Ruth Ames)\nsite S1 (Old Creamery)\n"));
    const auto covers = at.run({"list", "covers", "--json"}).json();
    CHECK(covers.back()["grower"] == "G1");
    CHECK(covers.back()["site"] == "S1");
}

TEST_CASE("an id goes before any name", "[names]") {
    clerk at;
    at.take(changed(quiet_season(), "sites.csv", "Mill yard", "S1"));
    at.must({"record", "scale", "--scale", "P2", "--location", "S3", "--class", "III", "--capacity", "50", "--division",
             "1", "--unit", "lb"});
    const auto done = at.run({"correct", "cover", "R2", "--site", "S1", "--why", "misread"});
    CHECK_THAT(done.out, Contains("the ledger holds these values already"));
    CHECK(done.err.empty());
}

TEST_CASE("a name of several is refused with a list, and nothing is recorded", "[names]") {
    clerk at;
    at.take(changed(quiet_season(), "sites.csv", "Mill yard", "Old yard"));
    const auto head = at.head();
    const auto done = at.run({"record", "cover", "--registration", "R9", "--date", "2026-06-01", "--grower", "G1",
                              "--site", "old", "--cover", "1"});
    CHECK(done.code == cli::bad_input);
    CHECK(done.out.empty());
    CHECK_THAT(done.err, StartsWith("--site: 'old' may be any of 2 sites; say which, by its id:\n  S1  Old Creamery") &&
                             Contains("\n  S3  Old yard"));
    CHECK(at.head() == head);
}

TEST_CASE("an unknown id is refused with what is near, beside every other fault", "[names]") {
    quiet_clerk at;
    const auto done = at.run({"record", "receipt", "--receipt", "RC9", "--date", "2026-06-01", "--site", "Creemery",
                              "--bundle", "B44", "--outcome", "accepted"});
    CHECK(done.code == cli::bad_input);
    CHECK_THAT(done.err, Contains("--site: no site 'Creemery' is defined; did you mean S1 (Old Creamery)? `tarewell "
                                  "list sites` shows all\n"));
    CHECK_THAT(done.err, Contains("--bundle: no bundle 'B44' is defined; did you mean B4 (1 of 2 of R2, Ib Orn)?"));
    CHECK_THAT(done.err, !Contains("take in its row"));
    CHECK_THAT(at.run({"void", "ticket", "T3", "--why", "twice"}).err,
               Contains("ticket: no ticket 'T3' is defined; did you mean T1 (") && Contains(" or T2 ("));
}

TEST_CASE("the first record of a kind is still told to be defined", "[names]") {
    clerk at;
    auto files = quiet_season();
    files.erase("shipments.csv");
    files.erase("acceptances.csv");
    at.take(files);
    CHECK_THAT(
        at.run({"record", "acceptance", "--shipment", "SH1", "--date", "2026-06-01", "--weight", "1", "--unit", "lb"})
            .err,
        Contains("no shipment 'SH1' is defined; take in its row of shipments.csv first"));
}

TEST_CASE("a processor that may be a slip of a known one is taken as written, and asked about", "[names]") {
    clerk at;
    auto files = quiet_season();
    files["shipments.csv"] = "shipment,date,processor,bale\nSH1,2026-05-25,Fen Polymer,L1\n";
    at.take(files);
    const auto ship = [&](const char* processor) {
        return at.run({"record", "shipment", "--shipment", "SH2", "--date", "2026-05-26", "--processor", processor,
                       "--bale", "L2"});
    };
    const auto slip = ship("Fen Polymers");
    CHECK(slip.code == cli::done);
    CHECK_THAT(slip.err, StartsWith("processor 'Fen Polymers' is new here; is it Fen Polymer?\n"));
    at.must({"void", "shipment", "SH2", "--why", "misspelt"});
    const auto known = at.run({"correct", "shipment", "SH2", "--processor", "Fen Polymer", "--why", "misspelt"});
    CHECK(known.code == cli::done);
    CHECK_THAT(known.err, !Contains("is new here"));
    at.must({"correct", "shipment", "SH2", "--carrier", "Low Road", "--why", "was left out"});
    CHECK(at.run({"list", "shipments", "--json"}).json()[1]["processor"] == "Fen Polymer");
}

TEST_CASE("records are corrected, voided, traced and looked back on by name", "[names]") {
    quiet_clerk at;
    CHECK_THAT(at.run({"correct", "site", "nursery", "--town", "Wend", "--why", "moved"}).err,
               StartsWith("site S2 (Nursery lot)"));
    const auto letter = at.run({"audit", "letter", "ruth ames"});
    CHECK(letter.code == cli::done);
    CHECK_THAT(letter.err, StartsWith("grower G1 (Ruth Ames)"));
    CHECK_THAT(at.must({"ledger", "history", "site", "nursery"}), Contains("correct site"));
    at.must({"void", "inkind", "I1", "--why", "twice"});
    CHECK_THAT(at.must({"ledger", "history", "inkind", "I1"}), Contains("void inkind"));
    CHECK_THAT(at.must({"correct", "inkind", "I1", "--quantity", "3", "--why", "was right"}), Contains("corrected"));
    CHECK_THAT(at.run({"audit", "confirm", "registration", "Ib Orn", "--why", "seen"}).err,
               StartsWith("registration R2 ("));
}

TEST_CASE("contact details are erased by a name only where a person says yes", "[names]") {
    quiet_clerk at;
    const auto head = at.head();
    const auto refused = at.run({"growers", "erase", "ruth", "--why", "asked"});
    CHECK(refused.code == cli::bad_input);
    CHECK_THAT(refused.err,
               Contains("grower G1 (Ruth Ames): details are erased for good; name the grower by the id G1"));
    CHECK(at.head() == head);
    at.must({"growers", "erase", "G1", "--why", "asked"});
    const auto none = at.run({"audit", "letter", "Ruth Ames"});
    CHECK(none.code == cli::bad_input); // who is forgotten is found by id alone
    CHECK_THAT(none.err, Contains("no grower 'Ruth Ames' is defined;"));
    CHECK(at.run({"audit", "letter", "G1"}).code == cli::done);
}

TEST_CASE("a mistyped command, option, kind, word, setting, figure or flag is told the nearest", "[names]") {
    quiet_clerk at;
    const auto says = [&](const std::vector<std::string>& arguments, const char* what) {
        CAPTURE(arguments);
        CHECK_THAT(at.run(arguments).err, Contains(what));
    };
    says({"recrod", "ticket"}, "'recrod' is no command; did you mean 'record'? `tarewell --help` lists them");
    says({"quarter", "shwo", "2026-Q2"},
         "'shwo' is no command of `tarewell quarter`; did you mean 'show'? `tarewell quarter --help` lists them");
    says({"record", "tickets", "--net", "3"}, "did you mean 'ticket'?");
    says({"quarter", "show", "2026-Q2", "--jsn"},
         "'--jsn' is no option of `tarewell quarter show`; did you mean '--json'?");
    says({"record", "ticket", "--nett", "3"}, "did you mean '--net'?");
    says({"list", "ticket"}, "did you mean 'tickets'?");
    says({"settings", "set", "bundle_aim", "40"}, "did you mean 'bundle_aim_lb'?");
    says({"trace", "diverted_wieght", "--quarter", "2026-Q2"}, "did you mean 'diverted_weight'?");
    says({"flags", "--code", "other-sit"}, "did you mean 'other-site'");
    says({"ledger", "history", "tikcet"}, "did you mean 'ticket'?");
    says({"correct", "cost", "C1", "--amuont", "3", "--why", "misread"}, "did you mean '--amount'?");
}
