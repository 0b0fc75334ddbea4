#include "clerk.hpp"
#include "made_workbook.hpp"
#include "terminal.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;

namespace {

/// The form export of sample_data with its map, at a desk that holds the sample season.
struct form_desk : sample_desk {
    form_desk() { (void)done({"intake", "map", "form", "--file", source_path("sample_data/form.toml")}); }
    static std::string form() { return source_path("sample_data/form-2026-10.csv"); }
    [[nodiscard]] nlohmann::ordered_json preview(const std::string& path, const std::string& map = "form") const {
        return nlohmann::ordered_json::parse(tell({"intake", path, "--map", map, "--preview", "--json"}).out);
    }
    [[nodiscard]] std::string head() const { return done({"ledger", "head", "--json"}); }
    /// A map and a file of its own.
    [[nodiscard]] answer take(const std::string& rules, const std::string& text) const {
        if (!rules.empty()) (void)done({"intake", "map", "own", "--file", folder().write("own.toml", rules)});
        return tell({"intake", folder().write("own.csv", text), "--map", "own"});
    }
};

std::string done_with(const form_desk& at, const std::string& rules) {
    return at.done({"intake", "map", "own", "--file", at.folder().write("own.toml", rules)});
}

const char* const ticket_rules =
    "[tickets]\nticket = \"{Slip}\"\ndate = \"{Day}\"\nscale = \"SC1\"\nweighs = \"bale\"\nsubject = "
    "\"{Bale}\"\nnet = \"{Net}\"\nunit = \"lb\"\nentry = \"manual\"\n";

} // namespace

TEST_CASE("a form's export of thirty rows becomes growers, covers and bundles", "[map]") {
    const form_desk at;
    const auto before = at.head();
    const auto shown = at.preview(at.form());
    CHECK(at.head() == before); // a preview writes nothing
    CHECK(shown["faults"].empty());
    REQUIRE(shown["rows"].size() == 27);
    const auto& first = shown["rows"][0];
    CHECK(first["row"] == 2);
    REQUIRE(first["records"].size() == 5);
    CHECK(first["records"][0]["values"]["grower"] == "G071");
    CHECK(first["records"][1]["values"]["registration"] == "R144");
    CHECK(first["records"][1]["values"]["date"] == "2026-10-01");
    CHECK(first["records"][1]["values"]["structure"] == "high tunnel");
    CHECK(first["records"][4]["values"]["bundle"] == "R144-3");
    // Known by e-mail; two covers in one row; spaces and a no-break letter; sent twice.
    CHECK(shown["rows"][1]["records"][0]["known"] == true);
    CHECK(shown["rows"][1]["records"][0]["values"]["grower"] == "G019");
    CHECK(shown["rows"][2]["records"][0]["values"]["name"] == "Anselm Quay");
    CHECK(shown["rows"][3]["records"][2]["values"]["cover"] == "2");
    CHECK(shown["rows"][6]["doubts"].dump() == "[\"all of this row is known: sent twice, or imported before\"]");

    const auto taken = at.done({"intake", at.form(), "--map", "form"});
    CHECK_THAT(taken, Contains("growers: 11 imported, 16 known already"));
    CHECK_THAT(taken, Contains("covers: 28 imported, 1 known already"));
    CHECK_THAT(taken, Contains("bundles: 79 imported, 1 known already"));
    // C: 29 m are 95.144357 ft and 9 m 29.527559 ft, each rounded to 6 decimals.
    CHECK_THAT(at.done({"list", "covers", "--csv"}),
               Contains("R150,2026-10-03,G024,S03,1,high tunnel,95.144357,29.527559"));
    const auto after = at.head();
    CHECK_THAT(at.done({"intake", at.form(), "--map", "form"}), Contains("nothing changed"));
    CHECK(at.head() == after);
    CHECK(at.tell({"ledger", "check"}).code == cli::done);
}

TEST_CASE("what a map does not say is refused with its row", "[map]") {
    const form_desk at;
    SECTION("a heading") {
        const auto said = at.take(ticket_rules, "Slip,Day,Bale,Net,Driver\nT1,2026-10-01,B044,320,Ib\n");
        CHECK(said.code == cli::bad_input);
        CHECK_THAT(said.err, Contains("own.csv:1:Driver: the map does not say what this heading is") &&
                                 Contains("--set 'ignore=Driver'"));
    }
    SECTION("a heading that is not there") {
        const auto said = at.take(ticket_rules, "Slip,Day,Bale\nT1,2026-10-01,B044\n");
        CHECK_THAT(said.err, Contains("own.csv:1:Net: the map names this heading, and the sheet has none such"));
    }
    SECTION("dates, thousands, blank rows and totals") {
        const auto said =
            at.take(ticket_rules, "Slip,Day,Bale,Net\nT1,10/1/2026,B044,\"1,320\"\n,,,\nT2,2026-10-01,B044,320\n"
                                  "Total,,,1640\n");
        CHECK_THAT(
            said.err,
            Contains("own.csv:2:tickets.date (from Day): '10/1/2026' is not written as 2026-05-14; let the map say"));
        CHECK_THAT(said.err, Contains("own.csv:2:tickets.net (from Net): '1,320' is not a number as the map has them"));
        CHECK_THAT(said.err, Contains("own.csv:3:Slip: the row is empty"));
        CHECK_THAT(said.err, Contains("own.csv:5:Slip: 'Total' begins what looks like a row of totals"));
        CHECK_THAT(said.err, Contains("refused: 4 faults"));
    }
    SECTION("the ledger's rules, with the heading's name") {
        const auto said = at.take(ticket_rules, "Slip,Day,Bale,Net\nT1,2026-10-01,B999,320\n");
        CHECK_THAT(said.err, Contains("own.csv:2:tickets.subject (from Bale): no bale 'B999' is defined"));
    }
    SECTION("an encoding") {
        const auto said = at.take(ticket_rules, "Slip,Day,Bale,Net\nT\xE9,2026-10-01,B044,320\n");
        CHECK_THAT(said.err, Contains("the file is not UTF-8 (byte 0xE9); let the map name its encoding"));
    }
    CHECK_THAT(at.done({"list", "tickets", "--csv"}), !Contains("T1,2026-10-01"));
}

TEST_CASE("a refusal says in people's words which column a key is, and the key of a unit that is missing", "[map]") {
    const form_desk at;
    const auto said = at.take(ticket_rules, "Slip,Day,Bale,Net\nT1,2026-10-01,B044,\"1,320\"\n");
    CHECK_THAT(said.err, Contains("(tickets.net: \"Net\" of a scale ticket)"));
    const auto cover = at.tell({"intake", "map", "own", "--set", "unit.covers.length_ft=m"});
    CHECK_THAT(cover.err,
               Contains("not whole yet:") &&
                   Contains("unit.covers.length_ft: the unit of \"Length, ft\" of a cover of a registration"));
    (void)at.done({"intake", "map", "form", "--unset", "unit.covers.length_ft"});
    const auto faults = at.preview(at.form())["faults"].dump();
    CHECK_THAT(faults, Contains("'96 ft' has a unit; let the map say the unit of the others: --set "
                                "unit.covers.length_ft=ft") &&
                           !Contains("KIND.COLUMN"));
}

TEST_CASE("who does not know how many bundles gets as many as the covers' sizes plan, and is asked", "[map]") {
    const form_desk at;
    const auto copy = [&](const std::string& count, const std::string& size) {
        const std::string header =
            "Timestamp,Your name,Farm or business,Town,E-mail,Phone,Which site will you bring it to?,Type of structure,"
            "Length (ft),Width (ft),Thickness (mil),A second tunnel?,Length 2,Width 2,How many bundles?,Anything "
            "else?\n";
        return at.folder().write("calls.csv", fmt::format("{}10/7/2026 9:00:00,Tor Wend,,Fen,tor@example.org,,Ostrey "
                                                          "landing,HT,{},6,No,,,{},\n",
                                                          header, size, count));
    };
    const auto shown = at.preview(copy("don't know", "96,30"));
    CAPTURE(shown.dump());
    REQUIRE(shown["faults"].empty());
    // The plan is that of `tarewell estimate` for this cover: README.md's first example makes three.
    REQUIRE(shown["rows"][0]["records"].size() == 5);
    CHECK(shown["rows"][0]["records"][4]["values"]["of"] == "3");
    CHECK_THAT(shown["rows"][0]["doubts"].dump(),
               Contains("'don't know' is no number of bundles: 3 bundles are made, as the covers' sizes plan"));
    CHECK_THAT(at.preview(copy("", "96,30"))["rows"][0]["doubts"].dump(), Contains("nothing says how many bundles"));
    CHECK_THAT(at.preview(copy("3 or 4", "96,30"))["faults"].dump(), Contains("does not say how many to make"));
    CHECK_THAT(at.preview(copy("don't know", ","))["faults"].dump(), Contains("or the covers' sizes"));
}

TEST_CASE("separators, decimal commas and names for ids are as the map says", "[map]") {
    const form_desk at;
    const auto said = at.take(
        "separator = \"semicolon\"\ndecimal = \"comma\"\ndates = \"dmy\"\n[receipts]\nreceipt = \"{Nr}\"\ndate = "
        "\"{Tag}\"\nsite = \"{Platz}\"\nbundle = \"{Bund}\"\noutcome = \"{Gut}\"\n[by]\nreceipts.site = \"name\"\n"
        "[words]\nreceipts.outcome = \"ja=accepted | nein=rejected\"\n",
        "Nr;Tag;Platz;Bund;Gut\nRC900;3.10.2026;Dunlin extension plot;R118-2;ja\n"
        "RC901;4.10.2026;Pell Crossing;R115-2;JA\n");
    CHECK(said.code == cli::done);
    CHECK_THAT(said.err, Contains("row 3: receipts.site (from Platz): 'Pell Crossing' is taken for S03"));
    CHECK_THAT(at.done({"list", "receipts", "--csv"}), Contains("RC900,2026-10-03,S08,R118-2,,,accepted"));
    const auto several = at.take("", "Nr;Tag;Platz;Bund;Gut\nRC902;4.10.2026;yard;R115-1;ja\n");
    CHECK_THAT(several.err,
               Contains("'yard' may be 2 sites; write the id: S01 (Alder Fork transfer yard), S06 (Marrow Creek"));
    const auto none = at.take("", "Nr;Tag;Platz;Bund;Gut\nRC902;4.10.2026;Nowhere;R115-1;ja\n");
    CHECK_THAT(none.err, Contains("no site is called 'Nowhere'"));
}

TEST_CASE("a workbook's sheet is read by a map too, with titles above its headings", "[map][xlsx]") {
    const form_desk at;
    made_workbook book;
    book.sheet_name = "Scale house";
    book.before_data = "<cols><col min=\"1\" max=\"1\"/></cols>";
    book.after_data = "<mergeCells><mergeCell ref=\"A1:D1\"/></mergeCells>"; // a title
    book.styles = "<xf numFmtId=\"0\"/><xf numFmtId=\"14\"/>";
    book.data = text_row(1, {"Slips of October"}) + text_row(3, {"Slip", "Day", "Bale", "Net"}) + "<row r=\"4\">" +
                text_cell("A4", "T900") + "<c r=\"B4\" s=\"1\"><v>46296</v></c>" + text_cell("C4", "B044") +
                "<c r=\"D4\"><v>362</v></c></row>";
    const auto path = at.folder().write("slips.xlsx", book.bytes());
    (void)done_with(at, std::string{"header_row = \"3\"\n"} + ticket_rules);
    CHECK_THAT(at.done({"intake", path, "--map", "own"}), Contains("slips.xlsx!Scale house: tickets: 1 imported"));
    CHECK_THAT(at.done({"list", "tickets", "--csv"}),
               Contains("T900,2026-10-01,SC1,bale,B044,,,362,lb")); // C: Python's datetime
}

TEST_CASE("a rule that is none is refused", "[map]") {
    const form_desk at;
    const auto said = at.tell({"intake", "map", "none", "--set", "nonsense=1"});
    CHECK(said.code == cli::bad_input);
    CHECK_THAT(said.err, Contains("no rule of a map is called 'nonsense'"));
}

TEST_CASE("a map's rules are entries: shown, changed with a reason, taken out, brought back", "[map]") {
    const form_desk at;
    const auto text = at.done({"intake", "map", "form"});
    CHECK_THAT(text, Contains("dates = \"mdy\"\n") && Contains("covers.length_ft = \"{Length (ft)}\"\n"));
    CHECK_THAT(at.done({"intake", "map", "form", "--file", at.folder().write("same.toml", text)}),
               Contains("says so already"));
    CHECK_THAT(
        at.done({"intake", "map", "form", "--set", "dates=dmy", "--unset", "totals", "--why", "the form was changed"}),
        Contains("2 rules kept"));
    CHECK_THAT(at.done({"intake", "map", "form"}), Contains("dates = \"dmy\"\n") && !Contains("totals"));
    CHECK_THAT(at.done({"ledger", "history", "map", "form", "dates"}), Contains("why: the form was changed"));
    const auto out = at.folder().file("out.toml");
    CHECK_THAT(at.done({"intake", "map", "form", "--export", out}), Contains("wrote map form to"));
    const auto whole = at.done({"intake", "map", "form"});
    CHECK(bytes_in(out) == whole);
    CHECK(at.tell({"intake", "map", "form", "--remove"}).code != cli::done); // why?
    (void)at.done({"intake", "map", "form", "--remove", "--why", "another form is used"});
    CHECK_THAT(at.done({"intake", "map"}), Contains("no map yet"));
    CHECK(at.tell({"intake", "map", "form", "--remove", "--why", "again"}).code != cli::done);
    (void)at.done({"intake", "map", "form", "--file", out, "--why", "in use again"});
    CHECK(at.done({"intake", "map", "form"}) == whole);
    CHECK_THAT(at.done({"intake", "map", "form", "--set", "totals=Total"}), Contains("1 rule kept"));
    CHECK_THAT(at.done({"intake", "map"}), Contains("form     49"));
    CHECK(at.tell({"intake", "map", "form", "--set", "dates=later"}).code == cli::bad_input);
    CHECK_THAT(at.tell({"intake", "map", "frm"}).err, Contains("no map 'frm'") && Contains("did you mean 'form'?"));
    CHECK_THAT(at.done({"intake", "map", "--rules"}), Contains("known_by.KIND"));
    CHECK(at.tell({"ledger", "check"}).code == cli::done);
}

TEST_CASE("a map that numbers records says by what one is known again", "[map]") {
    const form_desk at;
    const auto said = at.take(
        "[tickets]\nticket = \"T####\"\ndate = \"{Day}\"\nscale = \"SC1\"\nweighs = \"bale\"\nsubject = \"B044\"\n"
        "net = \"{Net}\"\nunit = \"lb\"\nentry = \"manual\"\n",
        "Day,Net\n2026-10-01,320\n");
    CHECK(said.code == cli::bad_input);
    CHECK_THAT(said.err, Contains("nothing says by what one is known again"));
}

TEST_CASE("a map is proposed from a file's headings and values", "[map]") {
    const form_desk at;
    const auto proposed = at.done({"intake", "map", "new", "--from", at.form()});
    CHECK_THAT(proposed, Contains("encoding = \"cp1252\"") && Contains("dates = \"mdy\"") &&
                             Contains("times = \"drop\"") && Contains("spaces = \"trim\"") &&
                             Contains("thousands = \"comma\"") && Contains("growers.email = \"{E-mail}\"") &&
                             Contains("growers.town = \"{Town}\"") && Contains("covers.date = \"{Timestamp}\"") &&
                             Contains("covers.length_ft = \"{Length (ft)}\"") &&
                             Contains("repeat.bundles = \"{How many bundles?}\""));
    const auto tickets = at.done({"intake", "map", "new", "--kind", "tickets", "--from",
                                  at.folder().write("slips.csv", "Slip;Date;Bale;Net\nT1;31.10.2026;B044;320\n")});
    CHECK_THAT(tickets, Contains("separator = \"semicolon\"") && Contains("dates = \"dmy\"") &&
                            Contains("tickets.ticket = \"{Slip}\"") && Contains("tickets.net = \"{Net}\""));
}

TEST_CASE("dates that a spreadsheet program turned round are told with their likely cause", "[map]") {
    quiet_clerk at;
    std::string text = "cost,date,category,description,amount,fund\n";
    for (int i = 1; i <= 60; ++i)
        text += fmt::format("C9{:02},{}/{}/2026,travel,van,12.50,grant\n", i, 6, i % 28 + 1);
    const auto path = at.folder().write("costs.csv", text);
    const auto said = at.run({"intake", "costs", path});
    CHECK(said.code == cli::bad_input);
    CHECK_THAT(said.err, Contains("costs.csv:61:date: '6/5/2026' is not written as a date")); // a pipe gets every line
    CHECK_THAT(said.err,
               Contains("60 dates are as a spreadsheet program turns them round") && Contains("dates = \"mdy\""));
}
