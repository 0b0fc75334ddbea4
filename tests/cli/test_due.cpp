#include "base_season.hpp"
#include "clerk.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;

namespace {

nlohmann::ordered_json group(const nlohmann::ordered_json& answer, const std::string& name) {
    for (const auto& each : answer["groups"])
        if (each["name"] == name) return each["items"];
    return nlohmann::ordered_json::array();
}

nlohmann::ordered_json due_on(clerk& at, const std::string& day) {
    return at.run({"due", "--on", day, "--json"}).json();
}

} // namespace

TEST_CASE("a season in which nothing is open waits for reports, costs to be claimed and papers alone", "[due]") {
    quiet_clerk at;
    const auto said = due_on(at, "2026-06-05");
    REQUIRE(said["groups"].size() == 3); // the award began with the year: 2026-Q1 was never closed
    CHECK(said["groups"][0]["name"] == "reports");
    CHECK(said["groups"][1]["name"] == "costs");
    CHECK(group(said, "papers").size() == 3); // two tickets and an acceptance name none
    CHECK(group(said, "costs")[0]["amount"] == "100.50");
    CHECK(at.run({"due", "--on", "2026-06-05"}).code == cli::done); // what is waited for is no fault
}

TEST_CASE("reports are due once their quarter is over, until they are closed", "[due]") {
    quiet_clerk at;
    const auto reports = group(due_on(at, "2026-07-15"), "reports");
    REQUIRE(reports.size() == 2);
    // 2 CFR 200.329: 30 days after the quarter.
    CHECK_THAT(std::string{reports[0]["sentence"]},
               StartsWith("Report 2026-Q1, 2026-01-01 to 2026-03-31: due 2026-04-30, 76 days overdue."));
    CHECK_THAT(std::string{reports[1]["sentence"]}, Contains("due 2026-07-30, due in 15 days."));
    CHECK(reports[1]["late"] == false);
    CHECK_THAT(std::string{reports[1]["command"]}, StartsWith("tarewell quarter close 2026-Q2 "));
    at.must({"quarter", "close", "2026-Q2", "--prepared-by", "Maud Ellery", "--reviewed-by", "Dell Rourke",
             "--certified-by", "Odile Fenn"});
    CHECK(group(due_on(at, "2026-07-15"), "reports").size() == 1);
}

TEST_CASE("late growers come with their telephone numbers, the latest first", "[due]") {
    clerk at;
    auto files = with_registration(quiet_season(), "B6,R3,1,2,,\nB7,R3,2,2,,\n");
    files["growers.csv"] = "grower,name,region,email,phone\nG1,Ruth Ames,KB,,555-0100\nG2,Ib Orn,KB,ib@example.org,\n";
    files = added(added(files, "covers.csv", "R4,2026-05-01,G2,S1,1,48,30,1,\nR5,2026-05-28,G2,S1,1,48,30,1,\n"),
                  "bundles.csv", "B8,R4,1,1,,\nB9,R5,1,1,,\n");
    at.take(files);
    const auto late = group(due_on(at, "2026-06-05"), "late_bundles");
    REQUIRE(late.size() == 3);
    CHECK(late[0]["sentence"] ==
          "Ib Orn (G2), ib@example.org: 1 bundle of R4 for S1, registered 2026-05-01, 14 days late.");
    CHECK(late[1]["sentence"] ==
          "Ruth Ames (G1), 555-0100: 2 bundles of R3 for S1, registered 2026-05-05, 10 days late.");
    CHECK(late[1]["phone"] == "555-0100");
    CHECK(late[1]["bundles"] == nlohmann::ordered_json{"B6", "B7"});
    CHECK(late[2]["late"] == false);
    const auto text = at.must({"due", "--on", "2026-06-05"});
    CHECK_THAT(text, Contains("Bundles registered and not received (3)\n") &&
                         Contains("\n  and 1 more, none of them late\n"));
    CHECK_THAT(text, !Contains("R5"));
    at.must({"growers", "erase", "G1", "--why", "asked"});
    CHECK_THAT(at.must({"due", "--on", "2026-06-05"}), Contains("grower G1: 2 bundles of R3") && !Contains("555-0100"));
}

TEST_CASE("what each command of the list says settles its line", "[due]") {
    clerk at;
    auto files = quiet_season();
    files.erase("tickets.csv");
    files.erase("acceptances.csv");
    files["sites.csv"] = "site,name,capacity_lb\nS1,Old Creamery,\nS2,Nursery lot,120\nS3,Mill yard,1000\n";
    files["shipments.csv"] = "shipment,date,processor,bale\nSH1,2026-05-25,Fen Polymer,L1\n";
    at.take(added(added(files, "covers.csv", "R4,2026-05-01,G2,S1,1,,,,\n"), "bundles.csv", "B6,R4,1,1,50,lb\n"));
    auto said = due_on(at, "2026-06-05");
    CHECK(group(said, "bales").size() == 2);
    CHECK(group(said, "bales")[0]["sentence"] == "Bale L1, pressed 2026-05-20 at S2, 3 bundles, claims 158.4 lb.");
    CHECK(group(said, "loads")[0]["sentence"] ==
          "Shipment SH1 of 2026-05-25 to Fen Polymer, 1 bale, 11 days under way.");
    CHECK(group(said, "sizes")[0]["registration"] == "R4");
    // C: 100.8 lb in L2, pressed at S2 and not weighed, of 120 lb: 84 %; L1 was shipped on 2026-05-25.
    REQUIRE(group(said, "sites").size() == 1);
    CHECK(group(said, "sites")[0]["on_hand"] == "100.800");
    CHECK_THAT(std::string{group(said, "sites")[0]["sentence"]}, Contains("100.8 lb of 120 lb on hand, 84 %"));
    at.must({"record", "ticket", "--ticket", "T1", "--date", "2026-06-05", "--scale", "P1", "--weighs", "bale",
             "--subject", "L1", "--net", "150", "--unit", "lb", "--entry", "printed"});
    at.must({"record", "acceptance", "--shipment", "SH1", "--date", "2026-06-05", "--weight", "150", "--unit", "lb"});
    at.must({"register", "--sizes", "R4", "--cover", "20x20", "--why", "told"});
    said = due_on(at, "2026-06-05");
    CHECK(group(said, "bales").size() == 1);
    CHECK(group(said, "loads").empty());
    CHECK(group(said, "sizes").empty());
    CHECK(group(said, "sites").size() == 1);
    CHECK(group(said, "papers").size() == 2); // the ticket and the acceptance name no paper
    const auto scan = at.folder().write("scan.txt", "a scan\n");
    at.must({"document", "attach", "ticket", "T1", scan});
    CHECK(group(due_on(at, "2026-06-05"), "papers").size() == 1);
    at.must({"record", "shipment", "--shipment", "SH2", "--date", "2026-06-05", "--processor", "Fen Polymer", "--bale",
             "L2"});
    CHECK(group(due_on(at, "2026-06-05"), "sites").empty());
    CHECK(group(due_on(at, "2026-06-04"), "sites").size() == 1);
}

TEST_CASE("doubts that block a closing are told before all but the reports, with the record to mend", "[due]") {
    clerk at;
    at.take(changed(quiet_season(), "tickets.csv", "T1,2026-05-22,P1,bale,L1,190,40,150,lb,printed,",
                    "T1,2026-05-22,P1,bale,L1,190,40,151,lb,printed,yes"));
    const auto said = due_on(at, "2026-06-05");
    CHECK(said["groups"][1]["name"] == "doubts");
    const auto doubt = group(said, "doubts")[0];
    CHECK(doubt["code"] == "net-as-printed");
    CHECK(doubt["command"] == "tarewell correct ticket T1 --COLUMN VALUE --why TEXT");
}

TEST_CASE("an empty ledger and a day that is none are told", "[due]") {
    clerk at;
    at.must({"new", at.ledger_path()});
    CHECK_THAT(at.run({"due"}).err, Contains("no award yet"));
    quiet_clerk other;
    CHECK(other.run({"due", "--on", "soon"}).code == cli::bad_input);
}
