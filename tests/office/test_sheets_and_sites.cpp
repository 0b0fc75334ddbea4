#include "visitor.hpp"

using namespace tarewell;
using namespace tarewell::tests;

namespace {

/// A visitor whose season waits for bundles B6 to B8 at S1.
class visitor_with_sheet : public visitor {
  public:
    visitor_with_sheet() {
        must({"record", "cover", "--registration", "R3", "--date", "2026-05-05", "--grower", "G1", "--site", "S1",
              "--cover", "1", "--length_ft", "48", "--width_ft", "30", "--layers", "1"});
        for (const auto* number : {"1", "2", "3"})
            must({"record", "bundle", "--bundle", fmt::format("B{}", 5 + std::stoi(number)), "--registration", "R3",
                  "--number", number, "--of", "3"});
    }
    /// The page that a sheet's form leads to once it is sent with these values.
    std::string send(const std::string& shown, std::vector<std::pair<std::string, std::string>> fields) {
        for (const auto* name : {"sheet", "on", "as_of", "row", "once", "record_kind"})
            fields.emplace_back(name, hidden(shown, name));
        const auto sent = post("/enter", fields);
        return sent.status == 303 ? get(location(sent)).body : sent.body;
    }
    std::string send_receipt(const std::string& shown, const std::string& id, const std::string& bundle,
                             const std::string& outcome = "accepted") {
        return send(
            shown, {{"receipt", id}, {"date", "2026-05-20"}, {"site", "S1"}, {"bundle", bundle}, {"outcome", outcome}});
    }
};

std::string row_now(const std::string& body) {
    std::smatch found;
    return std::regex_search(body, found, std::regex{"Row (\\d+ of \\d+): <b>([^<]*)</b>"})
               ? found[1].str() + ", " + found[2].str()
               : std::string{};
}

} // namespace

TEST_CASE("a check-in sheet is typed in row after row, with what it says filled in and what is done marked",
          "[office][paper]") {
    visitor_with_sheet v;
    CHECK_THAT(v.get("/enter").body, holds("From a printed sheet") && holds("<option value=\"S1\">S1 Old Creamery"));
    const auto begun = v.get("/enter?kind=receipt&sheet=S1");
    REQUIRE(begun.status == 303); // to an address that stays this sheet
    const auto first = v.get(visitor::location(begun)).body;
    CHECK(row_now(first) == "1 of 3, B6: Ruth Ames, 1 of 3");
    CHECK_THAT(first, holds("name=\"bundle\" type=\"text\" value=\"B6\"") &&
                          holds("name=\"site\" type=\"text\" value=\"S1\"") && holds("0 of 3 rows are recorded"));
    const auto wrong = v.send_receipt(first, "", "B6");
    CHECK_THAT(wrong, holds("Not recorded"));
    CHECK(row_now(wrong) == "1 of 3, B6: Ruth Ames, 1 of 3"); // the sheet is still at hand
    const auto second = v.send_receipt(first, "RC6", "B6");
    CHECK(row_now(second) == "2 of 3, B7: Ruth Ames, 2 of 3");
    CHECK_THAT(second, holds("Recorded by entry") && holds("1 of 3 rows are recorded") &&
                           holds("href=\"/record?kind=receipt&amp;id=RC6\">&#10003; recorded") &&
                           holds("name=\"date\" type=\"date\" value=\"2026-05-20\""));
    // B8 is typed though B7 is proposed: B7 is what is left.
    const auto last = v.send_receipt(second, "RC7", "B8");
    CHECK(row_now(last) == "2 of 3, B7: Ruth Ames, 2 of 3");
    v.must({"record", "receipt", "--receipt", "RC8", "--date", "2026-05-20", "--site", "S1", "--bundle", "B7",
            "--outcome", "rejected", "--reason", "wet"}); // by a terminal
    const auto done = v.get(visitor::location(begun)).body;
    CHECK_THAT(done, holds("All 3 rows of the sheet are recorded.") && holds("id=RC8"));
}

TEST_CASE("a row of a sheet is skipped, gone back to, and what a sheet can't be is told", "[office][paper]") {
    visitor_with_sheet v;
    const auto at_first = visitor::location(v.get("/enter?kind=receipt&sheet=S1"));
    const auto link_of = [](const std::string& body, const std::string& words) {
        std::smatch found;
        std::regex_search(body, found, std::regex{"href=\"([^\"]*)\">" + words});
        return std::regex_replace(found[1].str(), std::regex{"&amp;"}, "&");
    };
    const auto first = v.get(at_first).body;
    CHECK_THAT(first, !holds("Back a row"));
    const auto second = v.get(link_of(first, "Skip to the next")).body;
    CHECK(row_now(second) == "2 of 3, B7: Ruth Ames, 2 of 3");
    CHECK(row_now(v.get(link_of(second, "Back a row")).body) == "1 of 3, B6: Ruth Ames, 1 of 3");
    // A bundle registered since is not on the paper.
    v.must({"record", "cover", "--registration", "R4", "--date", "2026-05-05", "--grower", "G2", "--site", "S1",
            "--cover", "1"});
    v.must({"record", "bundle", "--bundle", "B9", "--registration", "R4", "--number", "1", "--of", "1", "--estimate",
            "40", "--unit", "lb"});
    CHECK(row_now(v.get(at_first).body) == "1 of 3, B6: Ruth Ames, 1 of 3");
    CHECK_THAT(v.get("/enter?kind=receipt&sheet=S2").body, holds("no bundle is expected there"));
    CHECK_THAT(v.get("/enter?kind=haul&sheet=all").body, holds("is of one site"));
    CHECK_THAT(v.get("/enter?kind=cost&sheet=S1").body, holds("there is no printed sheet of costs"));
    CHECK_THAT(v.get("/enter?kind=receipt&sheet=S9").body, holds("no site &#39;S9&#39;"));
    CHECK(v.get("/enter?kind=receipt&sheet=S1&as_of=9999").status == 422);
    CHECK(v.get("/enter?kind=receipt&sheet=S1&as_of=-1").status == 422);
    CHECK(v.get("/enter?kind=receipt&sheet=S1&row=99").status == 200);
}

TEST_CASE("a haul sheet has a row for each bundle, a scale log one for each bale", "[office][paper]") {
    visitor_with_sheet v;
    for (const auto* each : {"6", "7"})
        v.must({"record", "receipt", "--receipt", fmt::format("RC{}", each), "--date", "2026-05-20", "--site", "S1",
                "--bundle", fmt::format("B{}", each), "--outcome", "accepted"});
    const auto haul = v.get(visitor::location(v.get("/enter?kind=haul&sheet=S1"))).body;
    CHECK(row_now(haul) == "1 of 2, B6: Ruth Ames, 1 of 3");
    const auto next =
        v.send(haul, {{"haul", "H2"}, {"date", "2026-05-21"}, {"from", "S1"}, {"to", "S2"}, {"bundle", "B6"}});
    CHECK(row_now(next) == "2 of 2, B7: Ruth Ames, 2 of 3");
    CHECK_THAT(next, holds("name=\"haul\" type=\"text\" value=\"H2\"") && holds("kind=haul&amp;id=H2&amp;second=B6"));
    v.must({"record", "bale", "--bale", "L3", "--date", "2026-05-22", "--site", "S2", "--bundle", "B6"});
    const auto log = v.get(visitor::location(v.get("/enter?kind=ticket&sheet=all"))).body;
    CHECK(row_now(log) == "1 of 1, L3: pressed 2026-05-22 at Nursery lot");
    CHECK_THAT(log, holds("name=\"subject\" type=\"text\" value=\"L3\"") && holds("<option selected>bale</option>"));
}

TEST_CASE("the sites page says when each is full and why, what is held and what waits for a haul", "[office][places]") {
    visitor_with_sheet v;
    v.must({"correct", "site", "S1", "--capacity_lb", "400", "--why", "measured"});
    v.must({"record", "receipt", "--receipt", "RC6", "--date", "2026-05-15", "--site", "S1", "--bundle", "B6",
            "--outcome", "held", "--reason", "wet"});
    const auto early = v.get("/sites?on=2026-05-13").body;
    // R1: three of 57.6 lb, R2: one of 43.2 lb came by then; 184 lb are left, 216 came in 28 days: 24 days. C.
    CHECK_THAT(early, holds("<a href=\"/sites?site=S1&amp;on=2026-05-13\">S1</a> Old Creamery") &&
                          holds("aria-label=\"S1 is 54 % full\"") && holds("<b>2026-06-06</b>") &&
                          holds("216 of 400 lb are on hand, and 216 lb came in the last 28 days.") &&
                          holds("No capacity is set for the site") && holds("4 since 2026-05-10"));
    CHECK_THAT(v.get("/sites").body, holds("nothing came in the last 28 days")); // a year later
    const auto one = v.get("/sites?site=S1&on=2026-05-15").body;
    CHECK_THAT(one, holds("Held: 1") && holds("<td>wet</td>") && holds("/record?kind=bundle&amp;id=B6") &&
                        holds("Ruth Ames, 1 of 3") && holds("Waiting for a haul: 0"));
    CHECK_THAT(v.get("/sites?site=S2&on=2026-05-23").body,
               holds("Bales here: 2") && holds("<a href=\"/record?kind=shipment&amp;id=SH1\">SH1</a> of 2026-05-25"));
    CHECK(v.get("/sites?site=S9").status == 422);
    CHECK(v.get("/sites?on=May").status == 422);
}

TEST_CASE("a year and the whole award are closed as a quarter is, over open quarters with a reason", "[office]") {
    visitor v;
    const auto open = v.get("/quarter?quarter=2026").body;
    CHECK_THAT(open, holds("<h1>Year 2026</h1>") && holds("Close the year 2026") && holds("Flags of the year") &&
                         holds("2026-Q1, 2026-Q2, 2026-Q3, 2026-Q4 are open: why close the year over that") &&
                         holds("Quarters side by side") && holds("/evidence?quarter=2026\"") &&
                         holds("quarter=2025\" rel=\"prev\""));
    std::vector<std::pair<std::string, std::string>> fields{{"quarter", "2026"},
                                                            {"prepared_by", "Maud Ellery"},
                                                            {"reviewed_by", "Dell Rourke"},
                                                            {"certified_by", "Odile Fenn"}};
    const auto refused = v.post("/close", fields);
    CHECK(refused.status == 422);
    CHECK_THAT(refused.body, holds("2026-Q1, 2026-Q2, 2026-Q3, 2026-Q4 are open") && !holds("--over-open"));
    fields.emplace_back("over_open", "the funder asks for the year alone");
    CHECK(visitor::location(v.post("/close", fields)) == "/quarter?quarter=2026");
    CHECK_THAT(v.get("/quarter?quarter=2026").body,
               holds("Closed by entry") && holds("Withdraw the closing of 2026") && holds("the funder asks"));
    CHECK(v.get("/form?quarter=2026&form=quarter_page").status == 200);
    CHECK(v.get("/evidence?quarter=2026").status == 200);
    CHECK(v.post("/withdraw", {{"quarter", "2026"}, {"why", "a ticket was missing"}}).status == 303);

    const auto whole = v.get("/quarter?quarter=final").body;
    CHECK_THAT(whole, holds("<h1>Whole award (final)</h1>") && holds(">Close the whole award</button>") &&
                          !holds("rel=\"prev\""));
    fields[0].second = "final";
    CHECK(v.post("/close", fields).status == 303);
    CHECK(v.run({"quarter", "show", "final", "--json"}).json()["closed"] == true);

    const auto span = v.get("/quarter?quarter=2026-04..2026-09").body;
    CHECK_THAT(span, holds("<h1>Period 2026-04..2026-09</h1>") && !holds("action=\"/close\""));
    fields[0].second = "2026-04..2026-09";
    CHECK(v.post("/close", fields).status == 422);
    CHECK(v.get("/quarter?quarter=never").status == 422);
}

TEST_CASE("a corrected tare proposes the net that follows in the form, and the form knows its scale's unit",
          "[office]") {
    visitor v;
    v.must({"record", "scale", "--scale", "P2", "--class", "III", "--capacity", "2000", "--division", "1", "--unit",
            "kg"});
    CHECK_THAT(v.get("/enter?kind=ticket").body,
               holds("the scale&#39;s own: P1 lb, P2 kg") && holds("<option value=\"P2\" data-unit=\"kg\">"));
    const auto shown = v.get("/correct?kind=ticket&id=T1").body;
    const auto head = v.head();
    auto fields = visitor::ticket("T1", "150");
    fields[2].second = "2026-05-22";
    fields[5].second = "L1";
    for (const auto& [name, value] : std::vector<std::pair<std::string, std::string>>{{"record_kind", "ticket"},
                                                                                      {"gross", "190"},
                                                                                      {"tare", "45"},
                                                                                      {"id", "T1"},
                                                                                      {"shown", hidden(shown, "shown")},
                                                                                      {"why", "a 0 read for a 5"}})
        fields.emplace_back(name, value);
    const auto proposed = v.post("/correct", fields);
    CHECK(proposed.status == 422);
    CHECK(v.head() == head);
    CHECK_THAT(proposed.body, holds("gross less tare is 145 now, and is proposed here in place of 150") &&
                                  holds("name=\"net\" type=\"text\" value=\"145\""));
    fields[6].second = "145";
    CHECK(v.post("/correct", fields).status == 303);
}
