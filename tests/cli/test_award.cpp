#include "clerk.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;

namespace {

void record_request(clerk& at) {
    at.must({"record", "cost", "--cost", "C2", "--date", "2026-05-04", "--category", "travel", "--description", "van",
             "--amount", "140", "--fund", "grant"});
    at.must({"record", "request", "--request", "RQ1", "--date", "2026-06-01", "--cost", "C1", "--indirect", "10.05"});
    at.must({"record", "payment", "--payment", "PY1", "--date", "2026-06-20", "--kind", "reimbursement", "--amount",
             "99.50", "--request", "RQ1", "--retained", "11.05"});
}

} // namespace

TEST_CASE("the calendar says what is due, what is late and what was closed, as of a day") {
    quiet_clerk at;
    const auto on = [&](const char* day) { return at.run({"award", "calendar", "--on", day, "--json"}); };
    const auto in_time = on("2026-04-30");
    CHECK(in_time.code == cli::done);
    const auto reports = in_time.json()["reports"];
    REQUIRE(reports.size() == 5);
    CHECK(reports[0]["report"] == "2026-Q1");
    CHECK(reports[0]["due"] == "2026-04-30");
    CHECK(reports[0]["state"] == "due in 0 days");
    CHECK(reports[1]["state"] == "period open");
    CHECK(in_time.json()["records_kept_until"] == "2030-04-30");
    const auto late = on("2026-05-01");
    CHECK(late.code == cli::findings);
    CHECK(late.json()["reports"][0]["state"] == "1 day overdue");
    CHECK(late.json()["reports"][0]["late"] == true);
    at.must({"quarter", "close", "2026-Q1", "--prepared-by", "A", "--reviewed-by", "B", "--certified-by", "C"});
    const auto closed = on("2026-05-01");
    CHECK(closed.code == cli::done);
    CHECK(closed.json()["reports"][0]["closed_on"].is_string());
    CHECK(at.run({"award", "calendar", "--on", "2026-02-30"}).code == cli::bad_input);
}

TEST_CASE("budget lines against what was spent, with what has no line and what moved") {
    quiet_clerk at;
    record_request(at);
    const auto budget = at.run({"award", "budget", "--on", "2026-06-30", "--json"}).json();
    CHECK(budget["lines"][0]["category"] == "personnel");
    CHECK(budget["lines"][0]["grant_left"] == "5799.50");
    CHECK(budget["lines"][1]["category"] == "travel");
    CHECK(budget["lines"][1]["over"] == true); // 140 of 100
    CHECK(budget["lines"][2]["category"] == "indirect");
    CHECK(budget["lines"][2]["grant_spent"] == "24.05"); // computed: 10 % of 240.50
    CHECK(budget["moves"]["total"] == "6900.00");
    CHECK_THAT(at.must({"award", "budget", "--on", "2026-06-30"}),
               Contains("moved between lines since the award, or spent beyond one: 40.00 of 6900.00"));
}

TEST_CASE("requests with their payments, and the costs that are not claimed yet") {
    quiet_clerk at;
    record_request(at);
    const auto told = at.run({"award", "requests", "--on", "2026-06-30", "--json"}).json();
    REQUIRE(told["requests"].size() == 1);
    const auto& request = told["requests"][0];
    CHECK(request["costs"] == nlohmann::ordered_json{"C1"});
    CHECK(request["claimed"] == "110.55");
    CHECK(request["paid"] == "99.50");
    CHECK(request["retained"] == "11.05");
    CHECK(request["open"] == "0.00");
    CHECK(told["not_claimed"] == nlohmann::ordered_json{"C2"});
    CHECK_THAT(at.must({"award", "requests", "--on", "2026-06-30"}), Contains("not claimed yet: $140.00 in C2"));
    // Before the payment it is open.
    CHECK(at.run({"award", "requests", "--on", "2026-06-19", "--json"}).json()["requests"][0]["open"] == "110.55");
}

TEST_CASE("the table of rates, and the national value beside it with its source") {
    quiet_clerk at;
    at.must({"record", "rate", "--rate", "RT1", "--kind", "hours", "--begins", "2026-05-01", "--value", "22.50",
             "--source", "pay scale of the county"});
    const auto rates = at.run({"award", "rates", "--on", "2026-05-02", "--json"}).json();
    REQUIRE(rates.size() == 3);
    CHECK(rates[0]["yours"] == true);
    CHECK(rates[0]["rate"] == "22.5");
    CHECK(rates[1]["rate"] ==
          "36.14"); // read in the source and in a secondary source: Independent Sector, data year 2025
    CHECK(rates[2]["rate"] == "0.725"); // read in a secondary source: IRS notices, 2026
    CHECK(at.run({"award", "rates", "--on", "2026-04-30", "--json"}).json().size() == 2);
}

TEST_CASE("a quarter's paragraphs are kept, shown, written anew, and stand on its page") {
    quiet_clerk at;
    CHECK_THAT(at.must({"quarter", "note", "2026-Q2"}), Contains("no note for 2026-Q2 yet"));
    CHECK_THAT(at.must({"quarter", "note", "2026-Q2", "problems", "Tape in the film."}), Contains("kept by entry"));
    const auto file = at.folder().write("done.txt", "First <paragraph>.\n\nSecond paragraph.\n");
    at.must({"quarter", "note", "2026-Q2", "done", "--file", file});
    at.must({"quarter", "note", "2026-Q2", "problems", "Drip tape in the film.", "--why", "said more exactly"});
    at.must({"quarter", "note", "2026-Q1", "done", "Of another quarter."});
    const auto notes = at.run({"quarter", "note", "2026-Q2", "--json"}).json();
    REQUIRE(notes.size() == 2);
    CHECK(notes[0]["text"] == "Drip tape in the film.");
    const auto page = at.folder().file("page.html");
    at.must({"quarter", "page", "2026-Q2", page});
    const auto text = bytes_in(page);
    const auto done = text.find("<h3>What was done</h3>"), problems = text.find("<h3>Problems</h3>");
    REQUIRE(done != std::string::npos);
    CHECK(done < problems);
    CHECK_THAT(text, Contains("<p>First &lt;paragraph&gt;.</p>") && Contains("<p>Second paragraph.</p>") &&
                         Contains("<p>Drip tape in the film.</p>") && !Contains("Tape in the film.<") &&
                         !Contains("Of another quarter."));
    CHECK(at.run({"quarter", "note", "2026-Q2", "done", "x", "--file", file}).code == cli::bad_input);
    CHECK(at.run({"quarter", "note", "2026-7", "done", "x"}).code == cli::bad_input);
    for (const auto* slip : {"don", "Done", "nxet", "problem"}) {
        const auto refused = at.run({"quarter", "note", "2026-Q2", slip, "Swept the yard."});
        CHECK(refused.code == cli::bad_input);
        CHECK_THAT(refused.err, Contains(std::string{"no part of a report is called '"} + slip + "'; did you mean '"));
    }
    CHECK(at.run({"quarter", "note", "2026-Q2", "partners", "Two towns."}).code == cli::done);
    CHECK(at.run({"quarter", "note", "2026-Q2", "done", "--file", at.folder().file("none.txt")}).code ==
          cli::input_output);
}

TEST_CASE("what came by town, structure and film") {
    clerk at;
    auto files = quiet_season();
    files["growers.csv"] = "grower,name,region,town\nG1,Ruth Ames,KB,Wend\nG2,Ib Orn,KB,\n";
    files["covers.csv"] = "registration,date,grower,site,cover,length_ft,width_ft,layers,film,structure\n"
                          "R1,2026-05-01,G1,S1,1,96,30,1,clear,tunnel\nR2,2026-05-02,G2,S1,1,24,30,1,clear,tunnel\n"
                          "R2,2026-05-02,G2,S1,2,24,30,1,white,tunnel\n";
    at.take(files);
    const auto ids = [&](const char* by) {
        std::string all;
        const auto whole = at.run({"reconcile", "--by", by, "--json"}).json();
        for (const auto& line : whole["lines"])
            all += line[by].get<std::string>() + ";";
        return all;
    };
    CHECK(ids("town") == "(not given);Wend;");
    CHECK(ids("structure") == "tunnel;");
    CHECK(ids("film") == "clear;mixed;");
}
