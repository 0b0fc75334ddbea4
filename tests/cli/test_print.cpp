#include "clerk.hpp"
#include "desk/paper_printed.hpp"

#include <catch2/catch.hpp>

#include <fstream>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;

namespace {

std::string text_of(const std::string& path) {
    std::ifstream in{path, std::ios::binary};
    return {std::istreambuf_iterator<char>{in}, {}};
}

/// A clerk whose season waits for bundles B6 and B7 of Ruth Ames, and for B8 of Ib Orn, all for S1.
class waiting_clerk : public clerk {
  public:
    waiting_clerk() {
        auto files = with_registration(quiet_season(), "B6,R3,1,2,,\nB7,R3,2,2,,\n");
        files = added(added(files, "covers.csv", "R4,2026-05-06,G2,S1,1,48,30,1,\n"), "bundles.csv", "B8,R4,1,1,,\n");
        take(files);
    }
    std::string csv(std::vector<std::string> arguments) {
        const auto path = folder().file("sheet.csv");
        arguments.insert(arguments.begin(), "print");
        arguments.insert(arguments.begin() + 2, path);
        must(arguments);
        return text_of(path);
    }
    answered print(std::vector<std::string> arguments) {
        arguments.insert(arguments.begin(), "print");
        arguments.insert(arguments.begin() + 2, folder().file("sheet.html"));
        return run(arguments);
    }
    [[nodiscard]] std::string page() const { return text_of(folder().file("sheet.html")); }
};

} // namespace

TEST_CASE("labels are for bundles that are waited for, and each is printed once unless it is named", "[paper]") {
    waiting_clerk at;
    const std::string all{"bundle,label,name,number,of,registration,site,site_name\r\n"
                          "B6,\"Ruth Ames, 1 of 2\",Ruth Ames,1,2,R3,S1,Old Creamery\r\n"
                          "B7,\"Ruth Ames, 2 of 2\",Ruth Ames,2,2,R3,S1,Old Creamery\r\n"
                          "B8,\"Ib Orn, 1 of 1\",Ib Orn,1,1,R4,S1,Old Creamery\r\n"};
    CHECK(at.csv({"labels"}) == all);
    const auto none = at.print({"labels"});
    CHECK(none.code == cli::bad_input);
    CHECK_THAT(none.err, Contains("--again"));
    CHECK(at.csv({"labels", "--again"}) == all);
    CHECK_THAT(at.csv({"labels", "--bundle", "B8"}), Contains("\nB8,") && !Contains("\nB6,"));
    CHECK_THAT(at.csv({"labels", "--registration", "R1"}), Contains("\nB1,")); // received, and named
    CHECK_THAT(at.csv({"labels", "--again", "--grower", "ames"}), Contains("\nB7,") && !Contains("\nB8,"));
    CHECK(at.print({"labels", "--again", "--site", "S2"}).code == cli::bad_input);
}

TEST_CASE("the next labels begin where the last ones ended, as long as the stock stays", "[paper]") {
    waiting_clerk at;
    CHECK_THAT(at.print({"labels", "--bundle", "B6", "--start", "9"}).out,
               Contains("1 label on 1 sheet") && Contains("begins at label 10"));
    CHECK_THAT(at.print({"labels"}).out,
               Contains("2 labels on 2 sheets") && Contains("from label 10 on") && Contains("begins at label 2"));
    CHECK_THAT(at.print({"labels", "--again", "--paper", "a4"}).out, Contains("from label 1 on"));
    const auto past = at.print({"labels", "--again", "--start", "11"});
    CHECK(past.code == cli::bad_input);
    CHECK_THAT(past.err, Contains("--start 11: a sheet of 4x2in, 2 columns, 5 rows has 10 labels, from 1 to 10"));
    CHECK_THAT(at.print({"labels", "--again", "--stock", "4x2in 3x5"}).err, Contains("2 columns and 5 rows fit"));
    const auto kept = desk::printed_labels::of(at.ledger_path());
    CHECK(kept.bundles == std::set<std::string>{"B6", "B7", "B8"}); // what was refused is not kept
    CHECK(kept.next_label == 4);
}

TEST_CASE("paper and stock are said once, as settings", "[paper]") {
    waiting_clerk at;
    at.must({"settings", "set", "paper", "a4", "--why", "A4 in this office"});
    at.must({"settings", "set", "label_stock", "63.5x38.1mm", "--why", "what the office buys"});
    CHECK_THAT(at.print({"labels"}).out, Contains("63.5x38.1mm, 3 columns, 7 rows"));
    CHECK_THAT(at.page(), Contains("size: A4") && Contains("width:63.500mm;height:38.100mm"));
    const auto foolscap = at.run({"settings", "set", "paper", "foolscap", "--why", "old stock"});
    CHECK(foolscap.code == cli::bad_input);
    CHECK_THAT(foolscap.err, Contains("letter or a4"));
}

TEST_CASE("a name is text on a label, and an erased grower's is gone", "[paper]") {
    waiting_clerk at;
    at.must({"correct", "grower", "G1", "--name", "<script>alert('x')</script>", "--why", "as written"});
    at.must({"growers", "erase", "G2", "--why", "asked for"});
    CHECK(at.print({"labels"}).code == cli::done);
    CHECK_THAT(at.page(), Contains("&lt;script&gt;alert") && !Contains("<script"));
    CHECK_THAT(at.page(), Contains("grower G2, 1&nbsp;of&nbsp;1") && !Contains("Orn"));
}

TEST_CASE("a check-in sheet has what is expected at a site, those held before among it", "[paper]") {
    waiting_clerk at;
    at.must({"record", "receipt", "--receipt", "RC6", "--date", "2026-05-20", "--site", "S1", "--bundle", "B7",
             "--outcome", "held", "--reason", "label torn"});
    at.must({"record", "receipt", "--receipt", "RC7", "--date", "2026-05-20", "--site", "S1", "--bundle", "B6",
             "--outcome", "accepted"});
    // By name: Ib Orn before Ruth Ames.
    CHECK(at.csv({"check-in", "--site", "creamery", "--on", "2026-05-21"}) ==
          "site,bundle,label,outcome,reason,received_by\r\n"
          "S1,B8,\"Ib Orn, 1 of 1\",,,\r\nS1,B7,\"Ruth Ames, 2 of 2\",,,\r\n");
    CHECK(at.print({"check-in", "--on", "2026-05-21", "--blank", "2"}).code == cli::done);
    CHECK_THAT(at.page(), Contains("held since 2026-05-20: label torn") && Contains("When the site is full") &&
                              Contains("local codes"));
    CHECK(at.print({"check-in", "--on", "2026-01-01"}).code == cli::bad_input); // nothing was registered then
}

TEST_CASE("haul, baler and scale sheets have what lies there with the next ids", "[paper]") {
    waiting_clerk at;
    at.must({"record", "receipt", "--receipt", "RC7", "--date", "2026-05-20", "--site", "S1", "--bundle", "B6",
             "--outcome", "accepted"});
    CHECK(at.csv({"haul", "--site", "S1", "--to", "S2", "--on", "2026-05-21"}) ==
          "haul,from,to,bundle,label,driver\r\nH2,S1,S2,B6,\"Ruth Ames, 1 of 2\",\r\n");
    at.must({"record", "haul", "--haul", "H2", "--date", "2026-05-21", "--from", "S1", "--to", "S2", "--bundle", "B6"});
    CHECK(at.print({"haul", "--site", "S1", "--on", "2026-05-21"}).code == cli::bad_input);
    CHECK(at.print({"baler", "--on", "2026-05-21", "--next", "2"}).code == cli::done);
    CHECK_THAT(at.page(),
               Contains("Bale L3") && Contains("Bale L4") && !Contains("Bale L5") && Contains("lock it out"));
    CHECK_THAT(at.csv({"pick-up", "--on", "2026-05-21"}), Contains("S2,Nursery lot,Aldwend,,,,1,2,"));
    at.must({"record", "bale", "--bale", "L3", "--date", "2026-05-22", "--site", "S2", "--bundle", "B6"});
    CHECK(at.csv({"scale-log", "--on", "2026-05-23"}) ==
          "bale,pressed_on,site,ticket,date,scale,gross,tare,net,unit,weigher\r\nL3,2026-05-22,S2,,,,,,,,\r\n");
    CHECK_THAT(at.csv({"bale-tags", "--on", "2026-05-23"}), Contains("L3,2026-05-22,S2,Nursery lot,1"));
    CHECK_THAT(at.csv({"bale-tags", "--next", "2"}), Contains("L4,,,,") && Contains("L5,,,,") && !Contains("L3"));
}

TEST_CASE("a grower is told why a bundle was rejected and what to do next", "[paper]") {
    waiting_clerk at;
    at.must({"record", "receipt", "--receipt", "RC7", "--date", "2026-05-20", "--site", "S1", "--bundle", "B6",
             "--outcome", "rejected", "--reason", "Wet", "--disposition", "returned"});
    CHECK(at.print({"rejection", "--on", "2026-05-30"}).code == cli::done);
    CHECK_THAT(at.page(), Contains("Ruth Ames") && Contains("Bundle B6 (1 of 2): Wet") && Contains("fetch it") &&
                              Contains("fold it on a dry day"));
    const auto later = at.print({"rejection", "--on", "2026-06-30"});
    CHECK(later.code == cli::bad_input);
    CHECK_THAT(later.err, Contains("from 2026-06-16 to 2026-06-30") && Contains("--since"));
    CHECK(at.print({"rejection", "--on", "2026-06-30", "--since", "2026-05-20"}).code == cli::done);
    CHECK(at.print({"rejection", "--on", "2026-06-30", "--bundle", "B6"}).code == cli::done);
    at.must({"growers", "erase", "G1", "--why", "asked for"}); // there is nobody to write to
    CHECK(at.print({"rejection", "--on", "2026-06-30", "--bundle", "B6"}).code == cli::bad_input);
}

TEST_CASE("sheets of hours and miles name the paper that a record cites, and letters that exist are reached",
          "[paper]") {
    waiting_clerk at;
    CHECK_THAT(at.csv({"hours", "--site", "S1", "--on", "2026-05-21", "--blank", "1"}),
               Contains("hours S1 2026-05-21,1,,,S1,"));
    CHECK_THAT(at.csv({"mileage", "--on", "2026-05-21", "--blank", "1"}), Contains("mileage 2026-05-21,1,"));
    CHECK(at.print({"thanks", "--site", "S1", "--quarter", "2026-Q2"}).code == cli::done);
    CHECK(at.print({"statement", "--grower", "G1", "--quarter", "2026-Q2", "--names"}).code == cli::done);
    CHECK_THAT(at.page(), Contains("Ruth Ames"));
}

TEST_CASE("a template of one's own goes before the built-in one", "[paper]") {
    waiting_clerk at;
    at.folder().write("paper_labels.mustache", "{{! Ours. }}\n{{#pages}}{{#labels}}[{{id}}]{{/labels}}{{/pages}}");
    CHECK(at.print({"labels", "--templates", at.folder().path()}).code == cli::done);
    CHECK(at.page() == "[B6][B7][B8]");
    at.folder().write("paper_labels.mustache",
                      "{{! Ours. }}\n{{#pages}}\n{{regsitration}}{{/pages}}{{> paper_part_fot}}");
    const auto misspelt = at.print({"labels", "--again", "--templates", at.folder().path()});
    CHECK(misspelt.code == cli::bad_input);
    CHECK_THAT(misspelt.err, Contains("paper_labels.mustache:3:regsitration: ") &&
                                 Contains("did you mean registration?") && Contains("did you mean paper_part_foot?") &&
                                 Contains("nothing was written"));
    at.folder().write("paper_labels.mustache", "{{#pages}}{{id}}");
    CHECK(at.print({"labels", "--again", "--templates", at.folder().path()}).code == cli::bad_input);
    CHECK(at.page() == "[B6][B7][B8]"); // the old page stays
    CHECK_THAT(at.run({"report", "forms", "--templates", at.folder().path()}).out, !Contains("paper_"));
    CHECK(at.print({"labels", "--again", "--templates", at.folder().file("nowhere")}).code == cli::input_output);
}
