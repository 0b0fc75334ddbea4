#include "typed.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;

namespace {

/// A clerk whose season waits for bundles B6 to B8 at S1, and what comes of typing lines at `enter`.
class typing_clerk : public clerk {
  public:
    typing_clerk() { take(with_registration(quiet_season(), "B6,R3,1,3,,\nB7,R3,2,3,,\nB8,R3,3,3,,\n")); }
    answered enter(const std::string& kind, const std::string& sheet, const std::vector<std::string>& typed) {
        return typed_at(*this, {"enter", kind, "--sheet", sheet}, typed);
    }
    std::string outcomes() { return run({"list", "receipts", "--csv"}).out; }
};

} // namespace

TEST_CASE("a check-in sheet's bundles are proposed in its order, and go on after the one that is typed", "[paper]") {
    typing_clerk at;
    // receipt, date, site, bundle, outcome for each: the first as proposed, then B8 with B7 passed over.
    const auto done = at.enter("receipts", "creamery", {"", "2026-05-15", "", "", "", "", "", "", "B8", "", "."});
    CHECK(done.code == cli::done);
    CHECK_THAT(done.err, Contains("Bundle [B6]: ") && Contains("Bundle [B7]: B8") && Contains("the sheet's last row") &&
                             Contains("Site [S1]: "));
    CHECK_THAT(at.outcomes(), Contains("S1,B6") && Contains("S1,B8") && !Contains("S1,B7"));
    CHECK_THAT(at.enter("receipts", "creamery", {"."}).err, Contains("0 recorded")); // B7 is left
}

TEST_CASE("a sheet may be a file as print writes it", "[paper]") {
    typing_clerk at;
    const auto sheet = at.folder().write("sheet.csv", "site,bundle,label,outcome\r\nS1,B7,\"Ruth Ames, 2 of 3\",\r\n");
    CHECK_THAT(at.enter("receipts", sheet, {"", "2026-05-15", "", "", "", "."}).err,
               Contains("Bundle [B7]: ") && Contains("1 recorded"));
    const auto strange = at.folder().write("strange.csv", "a,b\r\n1,2\r\n");
    CHECK_THAT(at.enter("receipts", strange, {"."}).err, Contains("has nothing for receipts"));
    const auto broken = at.folder().write("broken.csv", "site,bundle\r\nS1,\"B7\r\n");
    CHECK_THAT(at.enter("receipts", broken, {"."}).err, Contains("broken.csv:2: "));
    CHECK_THAT(at.enter("receipts", at.folder().file("none.csv"), {"."}).err, Contains("could not be read"));
}

TEST_CASE("bales not weighed and bundles to be hauled are proposed, and other kinds have no sheet", "[paper]") {
    typing_clerk at;
    at.must({"record", "receipt", "--receipt", "RC6", "--date", "2026-05-15", "--site", "S1", "--bundle", "B6",
             "--outcome", "accepted"});
    CHECK_THAT(at.enter("hauls", "S1", {"", "2026-05-16", "", "S2", "", "."}).err,
               Contains("From [S1]: ") && Contains("Bundle [B6]: ") && Contains("1 recorded"));
    at.must({"record", "bale", "--bale", "L3", "--date", "2026-05-22", "--site", "S2", "--bundle", "B6"});
    CHECK_THAT(at.enter("tickets", "all", {"", "2026-05-23", "", "", "", "90", "40", "", "", "", "."}).err,
               Contains("Bale, bundle or shipment [L3]: ") && Contains("1 recorded"));
    CHECK_THAT(at.enter("tickets", "all", {"."}).err, Contains("there is no sheet of tickets"));
    CHECK_THAT(at.enter("costs", "all", {"."}).err, Contains("receipts and hauls have one for a site"));
}
