#include "clerk.hpp"
#include "terminal.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;

namespace {

const char* const cost_head = "cost,date,category,description,amount,fund\n";

struct undo_clerk : quiet_clerk {
    std::string figures() { return must({"quarter", "show", "2026-Q2", "--json"}); }
    /// The figures alone, without the entry as of which they stand.
    nlohmann::ordered_json values() { return nlohmann::ordered_json::parse(figures())["figures"]; }
    std::string last_act() {
        const auto acts = nlohmann::ordered_json::parse(must({"ledger", "history", "--acts", "--json"}));
        return std::to_string(acts.back()["act"].get<int>());
    }
    std::string take_costs(const std::string& rows) {
        must({"intake", "costs", folder().write("costs_more.csv", cost_head + rows)});
        return last_act();
    }
};

} // namespace

TEST_CASE("an undo voids all that a file brought, and the figures are as before", "[undo]") {
    undo_clerk at;
    const auto before = at.values();
    const auto act = at.take_costs("C91,2026-05-02,travel,van,12.50,grant\nC92,2026-05-03,travel,van,13,grant\n");
    REQUIRE(at.values() != before);
    const auto head = at.head();
    const auto shown = at.run({"undo", act, "--preview", "--why", "the wrong file"});
    CHECK(shown.code == cli::done);
    CHECK_THAT(shown.out,
               Contains("would be voided: 2 costs") && Contains("cost C91 (entry") && Contains("nothing was changed"));
    CHECK(at.head() == head);
    CHECK_THAT(at.must({"undo", act, "--why", "the wrong file"}), Contains("undone: 2 records voided"));
    CHECK(at.values() == before);
    CHECK(at.head() == head + 2);
    CHECK_THAT(at.must({"ledger", "history", "--acts"}), Contains("undo " + act) && Contains("costs_more.csv"));
    CHECK(at.run({"ledger", "check"}).code == cli::done);
    CHECK_THAT(at.must({"undo", act, "--why", "again"}), Contains("all of it is voided already"));
}

TEST_CASE("after an undo the mended file is taken in, and so is the same file", "[undo]") {
    undo_clerk at;
    const auto act = at.take_costs("C91,2026-05-02,travel,van,12.50,grant\n");
    const auto with_it = at.values();
    at.must({"undo", act, "--why", "the wrong file"});
    SECTION("the same") {
        at.take_costs("C91,2026-05-02,travel,van,12.50,grant\n");
        CHECK(at.values() == with_it);
    }
    SECTION("mended") {
        at.take_costs("C91,2026-05-02,travel,van,99.50,grant\n");
        CHECK_THAT(at.must({"list", "costs", "--csv"}), Contains("C91,2026-05-02,travel,van,,99.50"));
        CHECK_THAT(at.must({"undo", at.last_act(), "--why", "wrong again"}), Contains("undone: 1 record voided"));
        CHECK_THAT(at.must({"list", "costs", "--csv"}), !Contains("C91"));
    }
    CHECK(at.run({"ledger", "check"}).code == cli::done);
}

TEST_CASE("a record voided by itself stays so, whatever file names it", "[undo]") {
    undo_clerk at;
    at.take_costs("C91,2026-05-02,travel,van,12.50,grant\n");
    at.must({"void", "cost", "C91", "--why", "entered twice"});
    const auto head = at.head();
    CHECK_THAT(at.must({"intake", "costs", at.folder().file("costs_more.csv")}), Contains("was voided by entry"));
    CHECK(at.head() == head);
}

TEST_CASE("an undo is refused where later records stand on it, and lists them", "[undo]") {
    undo_clerk at;
    at.must({"intake", "growers", at.folder().write("g.csv", "grower,name,region\nG90,Ib Orn,KB\n")});
    const auto growers = at.last_act();
    at.must({"intake", "covers",
             at.folder().write("c.csv", "registration,date,grower,site,cover\nR90,2026-05-02,G90,S1,1\n")});
    const auto covers = at.last_act();
    const auto head = at.head();
    const auto said = at.run({"undo", growers, "--why", "the wrong file"});
    CHECK(said.code == cli::bad_input);
    CHECK_THAT(said.err, Contains("grower (cover R90 1): no grower 'G90' is defined then"));
    CHECK(at.head() == head);
    CHECK(at.run({"undo", growers, "--preview"}).code == cli::findings);
    SECTION("together it goes") {
        CHECK_THAT(at.must({"undo", growers, covers, "--why", "the wrong files"}),
                   Contains("undone: 2 records voided"));
    }
    SECTION("a corrected record stays") {
        at.must({"correct", "cover", "R90", "1", "--film", "clear", "--why", "asked"});
        const auto corrected = at.run({"undo", covers, "--why", "the wrong file"});
        CHECK_THAT(corrected.err, Contains("cover R90 1 was corrected by entry"));
    }
    CHECK(at.run({"ledger", "check"}).code == cli::done);
}

TEST_CASE("what is no import or record is not undone", "[undo]") {
    undo_clerk at;
    at.take_costs("C91,2026-05-02,travel,van,12.50,grant\n");
    at.must({"correct", "cost", "C91", "--amount", "13", "--why", "misread"});
    CHECK_THAT(at.run({"undo", at.last_act(), "--why", "x"}).err, Contains("correct the record again"));
    at.must({"void", "cost", "C91", "--why", "entered twice"});
    CHECK_THAT(at.run({"undo", at.last_act(), "--why", "x"}).err, Contains("bring the record back"));
    CHECK_THAT(at.run({"undo", "999", "--why", "x"}).err, Contains("the ledger has no act 999"));
    CHECK_THAT(at.run({"undo", "one", "--why", "x"}).err, Contains("'one' is no act's number"));
    CHECK_THAT(at.run({"undo", "1", "--why", ""}).err, Contains("--why is empty"));
    CHECK_THAT(at.run({"undo", "1", "--why", "x"}).err, Contains("in the award's terms"));
}

TEST_CASE("an undo in a closed quarter leaves what was filed, and says so", "[undo]") {
    const sample_desk at;
    (void)at.done(
        {"intake", "costs",
         at.folder().write("costs_more.csv", std::string{cost_head} + "C991,2026-05-02,travel,van,12.50,grant\n")});
    const auto acts = nlohmann::ordered_json::parse(at.done({"ledger", "history", "--acts", "--json"}));
    const auto act = std::to_string(acts.back()["act"].get<int>());
    REQUIRE(at.close("2026-Q2").code == cli::done);
    const auto filed = at.done({"quarter", "show", "2026-Q2", "--json"});
    const auto said = at.tell({"undo", act, "--why", "the wrong file"});
    CHECK(said.code == cli::done);
    CHECK_THAT(said.err, Contains("2026-Q2 was closed"));
    CHECK(at.done({"quarter", "show", "2026-Q2", "--json"}) == filed);
    CHECK_THAT(at.tell({"quarter", "restate", "2026-Q2"}).out, Contains("grant_spent"));
    CHECK(at.tell({"ledger", "check"}).code == cli::done);
    const auto closing = nlohmann::ordered_json::parse(at.done({"ledger", "history", "--acts", "--json"}));
    const auto of_closing = std::to_string(closing[closing.size() - 2]["act"].get<int>());
    CHECK_THAT(at.tell({"undo", of_closing, "--why", "x"}).err, Contains("tarewell quarter withdraw"));
}
