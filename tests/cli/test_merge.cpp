#include "base_season.hpp"
#include "clerk.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;

namespace {

/// The quiet season, in which G2 turns out to be G1 under another name.
class two_ids : public quiet_clerk {
  public:
    [[nodiscard]] nlohmann::ordered_json figure(const std::string& name, const std::vector<std::string>& more = {}) {
        std::vector<std::string> all{"quarter", "show", "2026-Q2", "--json"};
        all.insert(all.end(), more.begin(), more.end());
        const auto shown = run(all).json();
        for (const auto& each : shown["figures"])
            if (each["name"] == name) return each["value"];
        return {};
    }
    void merge() { must({"growers", "merge", "G1", "G2", "--why", "one person, by telephone"}); }
};

} // namespace

TEST_CASE("two ids of one person count as one grower from the merge on, and as two before it", "[merge]") {
    two_ids at;
    const auto before = std::to_string(at.head());
    CHECK(at.figure("growers_served") == 2);
    const auto weight = at.figure("bale_net_weight");
    const auto said = at.must({"growers", "merge", "Ruth Ames", "Ib Orn", "--why", "one person, by telephone"});
    CHECK_THAT(said, Contains(": 2 bundles of G2 count as G1 (Ruth Ames) from now on; what was filed stays"));
    for (const auto* figure : {"growers_served", "growers_new", "growers_to_date"})
        CHECK(at.figure(figure) == 1);
    CHECK(at.figure("growers_served", {"--as-of", before}) == 2);
    CHECK(at.figure("bale_net_weight") == weight);
    CHECK_THAT(at.must({"ledger", "check"}), StartsWith("OK"));
}

TEST_CASE("reports, lists, audit and look-up follow a merge", "[merge]") {
    two_ids at;
    at.merge();
    CHECK(at.run({"list", "bundles", "--grower", "G1", "--json"}).json().size() == 5);
    CHECK(at.run({"list", "bundles", "--grower", "G2", "--json"}).json().size() == 5);
    const auto by_grower = at.must({"reconcile", "--by", "grower", "--quarter", "2026-Q2"});
    CHECK_THAT(by_grower, Contains("\nG1 ") && !Contains("\nG2 "));
    const auto audit = at.run({"audit", "growers", "--json"}).json();
    REQUIRE(audit["growers"].size() == 1);
    CHECK(audit["growers"][0]["grower"] == "G1");
    CHECK_THAT(at.run({"audit", "letter", "G2"}).err, StartsWith("grower G2 counts as G1"));
    const auto call = at.run({"register", "Ib Orn", "--site", "S1", "--bundles", "1", "--json"}).json();
    CHECK(call["grower"] == "G1"); // the other id's name is known
    const auto workbook = at.folder().file("q.json");
    at.must({"report", "quarter_summary", "2026-Q2", workbook,
             "--json"}); // the second sums agree, or it would not be written
}

TEST_CASE("paper that names the merged id is still taken in, and counts as the other's", "[merge]") {
    two_ids at;
    at.merge();
    at.must({"record", "cover", "--registration", "R2", "--date", "2026-05-02", "--grower", "G2", "--site", "S1",
             "--cover", "2", "--length_ft", "10", "--width_ft", "10", "--layers",
             "1"}); // another cover of a registration of G2
    at.must({"record", "cover", "--registration", "R8", "--date", "2026-05-02", "--grower", "G2", "--site", "S1",
             "--cover", "1", "--length_ft", "10", "--width_ft", "10", "--layers", "1"});
    const auto file = at.folder().write("covers.csv", "registration,date,grower,site,cover,length_ft,width_ft,layers\n"
                                                      "R9,2026-05-02,G2,S1,1,10,10,1\n");
    at.must({"intake", "covers", file});
    CHECK(at.run({"list", "covers", "--grower", "G1", "--json"}).json().size() == 5);
    at.must({"correct", "cover", "R2", "--date", "2026-05-03", "--why", "misread"});
    CHECK_THAT(at.must({"ledger", "check"}), StartsWith("OK"));
}

TEST_CASE("a merge is refused for ids that are not there, itself, a circle and the erased", "[merge]") {
    two_ids at;
    at.must({"record", "grower", "--grower", "G3", "--name", "Nia Holt", "--region", "KB"});
    const auto head = at.head();
    const auto refused = [&](const std::string& kept, const std::string& gone, const char* what) {
        const auto done = at.run({"growers", "merge", kept, gone, "--why", "told"});
        CAPTURE(kept, gone, done.out, done.err);
        CHECK(done.code == cli::bad_input);
        CHECK_THAT(done.err, Contains(what));
        CHECK(at.head() == head);
    };
    refused("G1", "G9", "no grower 'G9' is defined");
    refused("G9", "G1", "no grower 'G9' is defined");
    refused("G1", "G1", "is the grower itself");
    refused("G1", "unknown", "is nobody");
    refused("unknown", "G1", "is nobody");
    CHECK(at.run({"growers", "merge", "G1", "G2"}).code == cli::usage);
}

TEST_CASE("merges run on from one to the next, never in a circle", "[merge]") {
    two_ids at;
    at.must({"record", "grower", "--grower", "G3", "--name", "Nia Holt", "--region", "KB"});
    at.merge(); // G2 counts as G1
    at.must({"growers", "merge", "G3", "G1", "--why", "told"});
    CHECK(at.run({"list", "bundles", "--grower", "G3", "--json"}).json().size() == 5);
    const auto circle = at.run({"record", "merge", "--grower", "G3", "--into", "G2", "--reason", "told"});
    CHECK(circle.code == cli::bad_input);
    CHECK_THAT(circle.err, Contains("--into: 'G2' counts as G3 already"));
    CHECK(at.run({"correct", "merge", "G1", "--into", "G2", "--why", "misread"}).code == cli::bad_input);
    CHECK_THAT(at.must({"ledger", "check"}), StartsWith("OK"));
}

TEST_CASE("a merge is voided, and may be made again", "[merge]") {
    two_ids at;
    at.merge();
    CHECK_THAT(at.must({"growers", "merge", "G1", "G2", "--why", "one person, by telephone"}),
               Contains("holds this already"));
    at.must({"void", "merge", "G2", "--why", "two sisters"});
    CHECK(at.figure("growers_served") == 2);
    at.must({"growers", "merge", "G1", "G2", "--why", "one person after all"});
    CHECK(at.figure("growers_served") == 1);
    CHECK_THAT(at.must({"list", "merges"}), Contains("one person after all"));
}

TEST_CASE("who is forgotten is merged with nobody, and a merged person is forgotten under every id", "[merge]") {
    {
        two_ids at;
        at.must({"growers", "erase", "G2", "--why", "asked"});
        const auto head = at.head();
        const auto done = at.run({"growers", "merge", "G1", "G2", "--why", "told"});
        CHECK(done.code == cli::bad_input);
        CHECK_THAT(done.err, Contains("the details of grower G2 were erased on request"));
        const auto recorded = at.run({"record", "merge", "--grower", "G2", "--into", "G1", "--reason", "told"});
        CHECK(recorded.code == cli::bad_input);
        CHECK_THAT(recorded.err, Contains("--grower: names 'G2', whose details were erased on request"));
        const auto path = at.folder().write("merges.csv", "grower,into,reason\nG1,G2,told\n");
        const auto taken = at.run({"intake", "merges", path});
        CHECK(taken.code == cli::bad_input);
        CHECK_THAT(taken.err, Contains("merges.csv:2:into: names 'G2', whose details were erased on request"));
        CHECK(at.head() == head);
    }
    two_ids at;
    at.merge();
    CHECK_THAT(at.must({"growers", "erase", "G1", "--why", "asked"}), Contains("by entries "));
    for (const auto& each : at.run({"list", "growers", "--json"}).json())
        CHECK(each["name"].is_null());
    CHECK_THAT(at.must({"ledger", "check"}), StartsWith("OK"));
}

TEST_CASE("a closed quarter stays as filed when two growers turn out to be one, and its restatement says so",
          "[merge]") {
    two_ids at;
    at.must({"quarter", "close", "2026-Q2", "--prepared-by", "Maud Ellery", "--reviewed-by", "Dell Rourke",
             "--certified-by", "Odile Fenn"});
    CHECK_THAT(at.must({"growers", "merge", "G1", "G2", "--why", "told"}),
               Contains("2026-Q2 was closed by entry") && Contains("tarewell quarter restate 2026-Q2"));
    CHECK(at.figure("growers_served") == 2);
    const auto moved = at.run({"quarter", "restate", "2026-Q2"});
    CHECK(moved.code == cli::findings);
    CHECK_THAT(moved.out, Contains("growers_served") && Contains("record merge"));
    CHECK_THAT(at.must({"ledger", "check"}), StartsWith("OK"));
}

TEST_CASE("a corrected merge names nobody whose details were erased, as a new one does not", "[merge]") {
    two_ids at;
    at.must({"record", "grower", "--grower", "G3", "--name", "Tor Venn", "--region", "KB"});
    at.must({"record", "grower", "--grower", "G4", "--name", "Pat Moss", "--region", "KB"});
    at.merge();
    at.must({"growers", "erase", "G3", "--why", "asked by letter"});
    const auto head = at.head();
    CHECK(at.run({"growers", "merge", "G3", "G4", "--why", "one person"}).code == cli::bad_input);
    CHECK(at.run({"record", "merge", "--grower", "G4", "--into", "G3", "--reason", "one person"}).code ==
          cli::bad_input);
    const auto refused = at.run({"correct", "merge", "G2", "--into", "G3", "--why", "the other"});
    CHECK(refused.code == cli::bad_input);
    CHECK_THAT(refused.err,
               StartsWith("--into: names 'G3', whose details were erased on request; leave the two apart"));
    CHECK(at.head() == head);
    at.must({"correct", "merge", "G2", "--into", "G4", "--why", "the other"});
    // A merge from before stays, and its reason is mended; once it is void it is not brought back.
    at.must({"void", "merge", "G2", "--why", "unclear"});
    at.must({"growers", "merge", "G4", "G2", "--why", "clear again"});
    at.must({"growers", "erase", "G4", "--why", "asked by letter"});
    at.must({"correct", "merge", "G2", "--reason", "clear by letter", "--why", "more exactly"});
    at.must({"void", "merge", "G2", "--why", "unclear"});
    CHECK(at.run({"correct", "merge", "G2", "--into", "G4", "--why", "back"}).code == cli::bad_input);
    CHECK_THAT(at.must({"ledger", "check"}), StartsWith("OK"));
}
