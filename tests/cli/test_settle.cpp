#include "clerk.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;

namespace {

/// The quiet season before any settlement: SH1 was shipped to Fen Polymer at 260 lb by our scale.
class load_under_way : public clerk {
  public:
    load_under_way() {
        auto files = quiet_season();
        files["acceptances.csv"] = "shipment,date,weight,unit\n";
        take(files);
    }
    answered settle(std::vector<std::string> more) {
        more.insert(more.begin(), {"settle", "SH1"});
        return run(more);
    }
    answered settle_at_a_price() {
        return settle({"--date", "2026-06-01", "--received", "258", "--rejected", "3", "--reason", "wet", "--price",
                       "0.0437", "--invoice", "chk 4"});
    }
    [[nodiscard]] std::string rows(const char* kind) { return must({"list", kind, "--json"}); }
};

} // namespace

TEST_CASE("a settlement is recorded in one act: acceptance and the income that its price makes", "[settle]") {
    load_under_way at;
    const auto before = at.head();
    const auto told = at.settle_at_a_price();
    CHECK(told.err.empty());
    CHECK(told.code == cli::done);
    CHECK(at.head() == before + 2);
    CHECK_THAT(told.out, Contains("recorded by entries"));
    // computed: 258 - 3 = 255 lb; 255 x $0.0437 = $11.1435
    CHECK_THAT(told.out, Contains("Fen Polymer pays $0.0437 per lb x 255 lb = $11.14"));
    CHECK_THAT(at.rows("income"), Contains("\"amount\": \"11.14\"") && Contains("\"shipment\": \"SH1\"") &&
                                      Contains("\"document\": \"chk 4\"") && Contains("\"party\": \"Fen Polymer\""));
    const auto acts = at.must({"ledger", "history", "--acts"});
    CHECK_THAT(acts, Contains("settle"));
    const auto shown = at.run({"settle", "SH1", "--json"}).json();
    CHECK(shown["shipped"] == "260.000");
    CHECK(shown["received"] == "258.000");
    CHECK(shown["rejected"] == "3.000");
    CHECK(shown["reason"] == "wet");
    CHECK(shown["accepted"] == "255.000");
    CHECK(shown["difference"] == "-2.000");
    CHECK(shown["amount"] == "11.14");
    CHECK(shown["made"][0]["kind"] == "income");
    CHECK(shown["flags"].empty());
    CHECK(shown["bales"].size() == 2);
    at.must({"ledger", "check"});
}

TEST_CASE("an undo takes a settlement back whole", "[settle]") {
    load_under_way at;
    REQUIRE(at.settle_at_a_price().code == cli::done);
    const auto acts = at.run({"ledger", "history", "--acts", "--json"}).json();
    std::string act;
    for (const auto& each : acts)
        if (each["command"] == "settle") act = each["act"].dump();
    at.must({"undo", act, "--why", "the wrong shipment"});
    CHECK(at.rows("income") == "[]\n");
    CHECK(at.rows("acceptances") == "[]\n");
    REQUIRE(at.settle_at_a_price().code == cli::done);
    CHECK_THAT(at.rows("income"), Contains("\"amount\": \"11.14\""));
    at.must({"ledger", "check"});
}

TEST_CASE("an amount that is not price times weight is refused with both sums, and nothing is written", "[settle]") {
    load_under_way at;
    const auto before = at.head();
    const auto told = at.settle({"--date", "2026-06-01", "--weight", "255", "--price", "0.0437", "--amount", "11.15"});
    CHECK(told.code == cli::bad_input);
    CHECK_THAT(told.err, Contains("the amount told is $11.15") && Contains("is $11.14"));
    CHECK(at.head() == before);
    CHECK(at.settle({"--date", "2026-06-01", "--weight", "255", "--price", "0.0437", "--amount", "11.14"}).code ==
          cli::done);
}

TEST_CASE("a fault in the money takes the acceptance back with it", "[settle]") {
    load_under_way at;
    const auto before = at.head();
    for (const auto& faulty : std::vector<std::vector<std::string>>{
             {"--weight", "255", "--charge", "0.01", "--fund", "match", "--category", "no such category"},
             {"--weight", "255", "--invoice", "77"},
             {"--received", "255", "--rejected", "256", "--price", "1"},
             {"--received", "255", "--rejected", "5", "--weight", "251", "--price", "1"},
             {"--price", "1"},
             {"--weight", "255", "--price", "x"},
             {"--weight", "999999999", "--price", "999999999"},
             {"--weight", "255", "--bale", "L1"}}) {
        CAPTURE(faulty);
        const auto told = at.settle(faulty);
        CHECK(told.code == cli::bad_input);
        CHECK_FALSE(told.err.empty());
        CHECK(at.head() == before);
    }
}

TEST_CASE("a charge makes a cost, and what was rejected out of a bale a reject of it", "[settle]") {
    load_under_way at;
    at.must({"settle",   "SH1",      "--date", "2026-06-01", "--received", "258",           "--rejected",
             "8",        "--reason", "soil",   "--bale",     "L2",         "--disposition", "landfilled",
             "--charge", "30",       "--per",  "ton",        "--invoice",  "inv 9"});
    CHECK_THAT(at.rows("costs"), Contains("\"amount\": \"3.75\"") && Contains("\"payee\": \"Fen Polymer\"")); // 0.125 t
    CHECK_THAT(at.rows("rejects"), Contains("\"stage\": \"processor\"") && Contains("\"weight\": \"8\""));
    CHECK_THAT(at.must({"settle"}), Contains("settled"));
    const auto processors = at.run({"settle", "--by-processor", "--json"}).json();
    REQUIRE(processors.size() == 2);
    CHECK(processors[0]["quarter"] == "2026-Q2");
    CHECK(processors[0]["shipped"] == "260.000");
    CHECK(processors[0]["rejected"] == "8.000");
    CHECK(processors[0]["rejected_share"].get<double>() == Approx(8.0 / 258));
    CHECK(processors[0]["charged"] == "3.75");
    CHECK(processors[0]["net_per_ton"].get<double>() == Approx(-30));
    CHECK(processors[1]["processor"] == "all");
}

TEST_CASE("an acceptance recorded before is held to, and only the money is added", "[settle]") {
    load_under_way at;
    at.must({"record", "acceptance", "--shipment", "SH1", "--date", "2026-06-01", "--weight", "255.0", "--unit", "lb"});
    const auto refused = at.settle({"--weight", "255", "--price", "0.0437"});
    CHECK(refused.code == cli::bad_input);
    CHECK_THAT(refused.err, Contains("tarewell correct acceptance SH1 --price '0.0437'"));
    at.must({"correct", "acceptance", "SH1", "--price", "0.0437", "--per", "lb", "--why", "the settlement came"});
    const auto open = at.settle({});
    CHECK_THAT(open.out, Contains("to record the income: tarewell settle SH1 --invoice NUMBER"));
    CHECK_THAT(at.must({"settle", "SH1", "--invoice", "chk 4"}), Contains("$11.14"));
    const auto again = at.settle({"--invoice", "chk 4"});
    CHECK(again.code == cli::bad_input);
    CHECK_THAT(again.err, Contains("is recorded for shipment SH1 already"));
}

TEST_CASE("price and charge of an acceptance go with what they are per, and never together", "[settle]") {
    load_under_way at;
    const auto record = [&](std::vector<std::string> more) {
        std::vector<std::string> all{"record",     "acceptance", "--shipment", "SH1",    "--date",
                                     "2026-06-01", "--weight",   "255",        "--unit", "lb"};
        all.insert(all.end(), more.begin(), more.end());
        return at.run(all);
    };
    CHECK_THAT(record({"--price", "1", "--charge", "1", "--per", "lb"}).err, Contains("is given, and so is price"));
    CHECK_THAT(record({"--price", "1"}).err, Contains("is empty, and a price or charge given"));
    CHECK_THAT(record({"--per", "lb"}).err, Contains("is given without a price or charge"));
    CHECK(record({"--price", "0", "--per", "tonne"}).code == cli::done);
}

TEST_CASE("spent income comes of no shipment", "[settle]") {
    load_under_way at;
    const auto told = at.run({"record", "income", "--income", "IN1", "--date", "2026-06-02", "--kind", "spent",
                              "--method", "addition", "--description", "twine", "--amount", "1", "--shipment", "SH1"});
    CHECK(told.code == cli::bad_input);
    CHECK_THAT(told.err, Contains("only income that was earned comes of a shipment"));
}
