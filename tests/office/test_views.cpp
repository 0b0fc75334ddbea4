#include "visitor.hpp"

#include "office/scratch.hpp"

#include <regex>

using namespace tarewell;
using namespace tarewell::tests;

TEST_CASE("every view of the quiet season is shown", "[office]") {
    visitor v;
    for (const auto* target :
         {"/", "/enter", "/find", "/find?q=Ruth", "/register", "/quarter", "/quarter?quarter=2026-Q2", "/flags",
          "/files", "/audit", "/who", "/record?kind=bale&id=L1", "/record?kind=bale&id=L1&second=B2",
          "/record?kind=cover&id=R1", "/correct?kind=bale&id=L1&second=B2"}) {
        INFO(target);
        const auto told = v.get(target);
        CHECK(told.status == 200);
        CHECK_THAT(told.body, holds("<main id=\"main\">") && holds("</html>") && !holds("{{"));
    }
    for (const auto& kind : records::recorded_kinds()) {
        INFO(kind.name);
        const auto told = v.get(fmt::format("/enter?kind={}", kind.name));
        CHECK(told.status == 200);
        for (const auto& column : kind.columns)
            CHECK_THAT(told.body, holds(fmt::format("<label for=\"f-{}\">", column.name)));
    }
    CHECK(v.get("/enter?kind=closing").status == 422);
}

TEST_CASE("a ticket is recorded once, told as it was understood, and the next begins with what they share",
          "[office]") {
    visitor v;
    auto fields = visitor::ticket("T3", "110");
    fields.emplace_back("once", "form-1");
    const auto sent = v.post("/enter", fields);
    CHECK(sent.status == 303);
    const auto head = v.head();
    const auto next = v.get(visitor::location(sent));
    CHECK_THAT(next.body, holds(fmt::format("Recorded by entry {}.", head)) && holds("T3: bale L2 from S2") &&
                              holds("Bale L2 has ticket T2 already"));
    CHECK_THAT(next.body, holds("name=\"date\" type=\"date\" value=\"2026-05-23\"") &&
                              holds("<option selected>printed</option>") && holds("the last one was T3"));
    CHECK_THAT(next.body,
               holds("name=\"net\" type=\"text\" value=\"\"") && holds("name=\"ticket\" type=\"text\" value=\"T4\""));
    CHECK(v.post("/enter", fields).status == 303); // Back, and Enter again
    CHECK(v.head() == head);
}

TEST_CASE("what is wrong is told beside its field, and what was typed stays", "[office]") {
    visitor v;
    const auto head = v.head();
    auto fields = visitor::ticket("T3", "-4");
    fields[3].second = "NOWHERE";
    fields[2].second = "2026-02-30";
    const auto told = v.post("/enter", fields);
    CHECK(told.status == 422);
    CHECK(v.head() == head);
    CHECK_THAT(told.body, holds("id=\"e-net\"") && holds("id=\"e-date\"") && holds("<a href=\"#f-net\">Net</a>") &&
                              holds("value=\"-4\"") && holds("value=\"NOWHERE\"") && holds("aria-invalid=\"true\""));
}

TEST_CASE("a doubt that blocks a closing is recorded only when its own tick is sent", "[office]") {
    visitor v;
    v.must({"record", "cover", "--registration", "R3", "--date", "2026-05-05", "--grower", "G1", "--site", "S1",
            "--cover", "1", "--length_ft", "48", "--width_ft", "30", "--layers", "1"});
    v.must({"record", "bundle", "--bundle", "B6", "--registration", "R3", "--number", "1", "--of", "1"});
    v.must({"record", "receipt", "--receipt", "RC6", "--date", "2026-05-15", "--site", "S2", "--bundle", "B6",
            "--outcome", "accepted"});
    v.must({"record", "bale", "--bale", "L3", "--date", "2026-05-20", "--site", "S2", "--bundle", "B6"});
    const auto head = v.head();
    auto fields = visitor::ticket("T3", "860"); // ten times the claim of 86.4 lb
    fields[5].second = "L3";
    const auto held = v.post("/enter", fields);
    CHECK(held.status == 422);
    CHECK_THAT(held.body, holds("Not recorded yet") && holds("blocks closing") && holds("value=\"860\""));
    const auto mark = hidden(held.body, "sure");
    CHECK(mark.size() == 16);
    auto ticked = fields;
    ticked.emplace_back("sure", mark);
    auto other = ticked; // ticked, and then changed: these doubts were not shown
    other[6].second = "870";
    CHECK(v.post("/enter", other).status == 422);
    CHECK(v.head() == head);
    CHECK(v.post("/enter", ticked).status == 303);
    CHECK(v.head() == head + 1);
}

TEST_CASE("looking first writes nothing", "[office]") {
    visitor v;
    const auto head = v.head();
    auto fields = visitor::ticket("T3", "110");
    fields.emplace_back("look", "1");
    const auto told = v.post("/enter", fields);
    CHECK(told.status == 200);
    CHECK_THAT(told.body, holds("It would be read so") && holds("T3: bale L2 from S2") && holds("value=\"T3\""));
    CHECK(v.head() == head);
}

TEST_CASE("a correction names its reason, and is refused where the record was changed meanwhile", "[office]") {
    visitor v;
    const auto shown = v.get("/correct?kind=ticket&id=T1").body;
    const auto entry = hidden(shown, "shown");
    auto fields = visitor::ticket("T1", "151");
    fields[2].second = "2026-05-22";
    fields[5].second = "L1";
    for (const auto& [name, value] : std::vector<std::pair<std::string, std::string>>{
             {"gross", "191"}, {"tare", "40"}, {"id", "T1"}, {"shown", entry}})
        fields.emplace_back(name, value);
    CHECK(v.post("/correct", fields).status == 422); // no reason
    fields.emplace_back("why", "misread on the printer's slip");
    const auto done = v.post("/correct", fields);
    CHECK(done.status == 303);
    const auto record = v.get(visitor::location(done)).body;
    CHECK_THAT(record,
               holds("Corrected by entry") && holds("misread on the printer&#39;s slip") && holds("<dd>151</dd>"));
    // The same form from another tab, or after a terminal was there.
    const auto head = v.head();
    const auto again = v.post("/correct", [&] {
        auto other = fields;
        other[6].second = "152";
        other[9].second = "192";
        return other;
    }());
    CHECK(again.status == 409);
    CHECK_THAT(again.body, holds("Changed meanwhile"));
    CHECK(v.head() == head);
}

TEST_CASE("a void takes a record out, brings its history, and is not done over a change", "[office]") {
    visitor v;
    CHECK(v.post("/enter", visitor::ticket("T3", "110")).status == 303);
    const auto page = v.get("/record?kind=ticket&id=T3").body;
    const std::vector<std::pair<std::string, std::string>> fields{
        {"kind", "ticket"}, {"id", "T3"}, {"shown", hidden(page, "shown")}, {"why", "typed twice"}};
    v.must({"correct", "ticket", "T3", "--net", "111", "--why", "from a terminal", "--yes"});
    CHECK(v.post("/void", fields).status == 409);
    auto anew = fields;
    anew[2].second = hidden(v.get("/record?kind=ticket&id=T3").body, "shown");
    const auto done = v.post("/void", anew);
    CHECK(done.status == 303);
    const auto record = v.get(visitor::location(done)).body;
    CHECK_THAT(record, holds("This record is void") && holds("typed twice") && holds("from a terminal"));
    CHECK(v.post("/void", anew).status != 200);
    // A record that others stand on.
    auto bundle = anew;
    bundle[0].second = "bundle";
    bundle[1].second = "B1";
    bundle[2].second = hidden(v.get("/record?kind=bundle&id=B1").body, "shown");
    CHECK(v.post("/void", bundle).status == 422);
}

TEST_CASE("the page follows what a terminal does", "[office]") {
    visitor v;
    CHECK_THAT(v.get("/record?kind=site&id=S1").body, holds("Old Creamery"));
    v.must({"correct", "site", "S1", "--name", "New Creamery", "--why", "renamed"});
    CHECK_THAT(v.get("/record?kind=site&id=S1").body, holds("New Creamery"));
    CHECK_THAT(v.get("/").body, holds("New Creamery"));
}

TEST_CASE("a sheet is looked at row by row and taken in whole or not at all", "[office]") {
    visitor v;
    const auto head = v.head();
    const std::string good = "grower,name,region\nG7,Ola Fenn,KB\nG8,=Tam,KB\n";
    const auto bad =
        v.send_file("/files", {{"kind", ""}}, "../../growers.csv", "grower,name,region\nG7,Ola,XX\nG8,,KB\n");
    CHECK(bad.status == 422);
    CHECK_THAT(bad.body,
               holds("<li>growers.csv:2:region:") && holds("<li>growers.csv:3:name:") && !holds("tarewell_office_"));
    const auto seen = v.send_file("/files", {{"kind", ""}}, "growers-may.csv", good);
    CHECK(seen.status == 200);
    CHECK_THAT(seen.body, holds("2 rows, 2 new") && holds("Nothing is imported yet"));
    CHECK(v.head() == head);
    const auto waiting = hidden(seen.body, "waiting");
    const auto done = v.post("/files", {{"waiting", waiting}});
    CHECK_THAT(done.body, holds("2 imported"));
    CHECK(v.head() == head + 2);
    CHECK_THAT(v.post("/files", {{"waiting", waiting}}).body, holds("nothing changed"));
    CHECK(v.post("/files", {{"waiting", "guessed"}}).status == 422);
    CHECK(v.send_file("/files", {{"kind", ""}}, "what.csv", good).status == 422);
    CHECK(v.send_file("/files", {{"kind", "closing"}}, "x.csv", good).status == 422);
    CHECK(v.head() == head + 2);
}

TEST_CASE("a quarter is closed by three, and withdrawn with a reason", "[office]") {
    visitor v;
    std::vector<std::pair<std::string, std::string>> fields{
        {"quarter", "2026-Q2"}, {"prepared_by", "Maud Ellery"}, {"reviewed_by", "Dell Rourke"}, {"certified_by", ""}};
    CHECK(v.post("/close", fields).status == 422);
    fields[3].second = "Odile Fenn";
    auto with_unknown = fields;
    with_unknown.emplace_back("accept-late", "no such flag");
    CHECK(v.post("/close", with_unknown).status == 422);
    CHECK(v.post("/close", fields).status == 303);
    CHECK_THAT(v.get("/quarter?quarter=2026-Q2").body, holds("Closed by entry") && holds("Odile Fenn"));
    CHECK(v.post("/withdraw", {{"quarter", "2026-Q2"}, {"why", ""}}).status == 422);
    CHECK(v.post("/withdraw", {{"quarter", "2026-Q2"}, {"why", "a ticket was missing"}}).status == 303);
    CHECK_THAT(v.get("/quarter?quarter=2026-Q2").body, holds("Close the quarter 2026-Q2"));
}

TEST_CASE("the workbook from the page is the workbook of the command, byte for byte", "[office]") {
    visitor v;
    const auto given = v.get("/form?quarter=2026-Q2&form=quarter_summary&as=xlsx");
    CHECK(given.status == 200);
    v.must({"quarter", "workbook", "2026-Q2", v.folder().file("by_command.xlsx")});
    CHECK(given.body == bytes_in(v.folder().file("by_command.xlsx")));
    CHECK(v.get("/form?quarter=2026-Q2&form=no_such_form").status == 422);
    CHECK(v.get("/form?quarter=2026-Q2&form=..%2F..%2Fetc%2Fpasswd").status == 422);
}

TEST_CASE("a scan is kept with its record and given back", "[office]") {
    visitor v;
    const std::string scan{"%PDF\0\xff<script>", 14};
    CHECK(v.send_file("/document", {{"kind", "ticket"}, {"id", "T1"}}, "../t1.pdf", scan).status == 303);
    const auto body = v.get("/record?kind=ticket&id=T1").body;
    std::smatch found;
    REQUIRE(std::regex_search(body, found, std::regex{"/document\\?entry=([0-9]+)\">t1.pdf"}));
    const auto given = v.get("/document?entry=" + found[1].str());
    CHECK(given.body == scan);
    CHECK(given.type == "application/octet-stream");
}

TEST_CASE("whoever has not said who they are is asked first", "[office]") {
    visitor v;
    v.page.around.who.clear();
    v.page.who_suggested = "maud";
    CHECK_THAT(v.get("/enter?kind=ticket").body, holds("Your name") && holds("value=\"maud\""));
    CHECK(v.post("/enter", visitor::ticket("T3", "110")).status == 200); // asked, not recorded
    CHECK(v.post("/who", {{"who", "  "}}).status == 422);
    CHECK(v.post("/who", {{"who", "Maud\nEllery"}}).status == 422);
    CHECK(v.post("/who", {{"who", "Maud Ellery"}}).status == 303);
    CHECK(v.post("/enter", visitor::ticket("T3", "110")).status == 303);
    CHECK_THAT(v.must({"ledger", "history", "ticket", "T3"}), holds("Maud Ellery"));
}

TEST_CASE("a grower who calls is registered with covers, bundles and labels at once", "[office]") {
    visitor v;
    const auto head = v.head();
    std::vector<std::pair<std::string, std::string>> fields{{"who", "Ola Fenn"},
                                                            {"site", "creamery"},
                                                            {"date", "2026-06-02"},
                                                            {"sizes", "48x30, 96 x 30"},
                                                            {"once", "call-1"}};
    const auto done = v.post("/register", fields);
    CHECK(done.status == 200);
    CHECK_THAT(done.body, holds("Ola Fenn") && holds("labels:"));
    const auto after = v.head();
    CHECK(after > head + 3); // the grower, two covers, bundles
    fields[4].second = "call-2";
    const auto twice = v.post("/register", fields);
    CHECK(twice.status == 422);
    CHECK_THAT(twice.body, holds("name=\"again\"") && holds("value=\"Ola Fenn\""));
    auto near = fields;
    near[0].second = "Ola Fen";
    CHECK_THAT(v.post("/register", near).body, holds("someone new") && holds("name=\"is\""));
    fields[3].second = "96 by";
    CHECK(v.post("/register", fields).status == 422);
    CHECK(v.head() == after);
}

TEST_CASE("a name stands for an id, and several are told", "[office]") {
    visitor v;
    const std::vector<std::pair<std::string, std::string>> cover{
        {"kind", "cover"}, {"registration", "R7"}, {"date", "2026-05-05"}, {"grower", "ruth"}, {"site", "creamery"},
        {"cover", "1"},    {"length_ft", "48"},    {"width_ft", "30"},     {"layers", "1"}};
    const auto sent = v.post("/enter", cover);
    CHECK(sent.status == 303);
    CHECK_THAT(v.get(visitor::location(sent)).body, holds("grower G1 (Ruth Ames)") && holds("site S1 (Old Creamery)"));
    auto several = cover;
    several[1].second = "R8";
    several[4].second = "S"; // no id, and no name has it alone
    const auto asked = v.post("/enter", several);
    CHECK(asked.status == 422);
    CHECK_THAT(asked.body, holds("id=\"e-site\""));
    CHECK_THAT(v.get("/find?q=Rut+Ame").body, holds("Ruth Ames"));
}

TEST_CASE("a file's name from a browser is no path", "[office]") {
    CHECK(office::plain_name("../../etc/passwd") == "passwd");
    CHECK(office::plain_name("C:\\Users\\x\\list.csv") == "list.csv");
    CHECK(office::plain_name("..") == "file");
    CHECK(office::plain_name("") == "file");
    CHECK(office::plain_name("a\r\nb\"<.csv") == "a__b__.csv");
}
