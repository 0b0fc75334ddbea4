#include "ledger/load_season.hpp"
#include "base_season.hpp"
#include "figures/audit_input.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

namespace {

using namespace tarewell;
using namespace tarewell::tests;
using figures::audit_row;

/// The base season with other tickets, receipts and bales.
figures::audit_input input_of(const std::map<std::string, std::string>& other,
                              std::optional<quantity::span_of_days> days = std::nullopt) {
    base_season base;
    for (const auto& [name, text] : other)
        base.folder().write(name, text);
    base.take_all();
    const auto season = ledger::load_season(base.ledger(), base.head());
    return figures::audit_input_of(season, reconcile::reckon(season), days);
}

const std::string ticket_head = "ticket,date,scale,weighs,subject,gross,tare,net,unit,entry\n";

} // namespace

TEST_CASE("a weighed bale is one row with its bundles, and nothing else is on hand") {
    const auto input = input_of({});
    REQUIRE(input.rows.size() == 1);
    CHECK(input.rows[0].what == audit_row::kind::bale);
    CHECK(input.season.bales[0].net == 110.0);
    CHECK(input.season.bales[0].division == 1.0);
    REQUIRE(input.season.bundles.size() == 2);
    CHECK(input.season.bundles[0].estimate == 57.6);
    CHECK(input.season.growers == 1);
    CHECK(input.bases == std::vector{records::basis::constant});
    CHECK(input.on_hand.empty());
    CHECK(input.weighed == quantity::weight{110'000});
}

TEST_CASE("days decide which bales are weighed and what is on hand on their last day") {
    const auto day = [](const char* text) { return quantity::day_of(text); };
    const auto before = input_of({}, quantity::span_of_days{day("2026-05-01"), day("2026-05-20")});
    CHECK(before.rows.empty());
    CHECK(before.on_hand.size() == 2);
    const auto after = input_of({}, quantity::span_of_days{day("2026-05-22"), day("2026-06-30")});
    CHECK(after.rows.empty());
    CHECK(after.on_hand.empty());
    const auto first = input_of({}, quantity::span_of_days{day("2026-05-01"), day("2026-05-10")});
    CHECK(first.on_hand.size() == 1);
}

TEST_CASE("a spot weight becomes a row of its own and comes off its bale, once") {
    const auto input = input_of({{"tickets.csv", ticket_head + "T1,2026-05-21,P1,bale,L1,150,40,110,lb,printed\n"
                                                               "T2,2026-05-16,P1,bundle,B1,,,50,lb,manual\n"}});
    REQUIRE(input.rows.size() == 2);
    CHECK(input.rows[0].what == audit_row::kind::bale);
    CHECK(input.rows[0].spots_taken_off);
    CHECK(input.season.bales[0].net == 60.0);
    CHECK(input.rows[1].what == audit_row::kind::bundle);
    CHECK(input.season.bales[1].net == 50.0);
    CHECK(input.weighed == quantity::weight{110'000});
}

TEST_CASE("where spot weights pass the bale's net, the rest of its bundles is not predicted a second time") {
    const auto input = input_of({{"tickets.csv", ticket_head + "T1,2026-05-21,P1,bale,L1,150,40,110,lb,printed\n"
                                                               "T2,2026-05-16,P1,bundle,B1,,,120,lb,manual\n"}});
    REQUIRE(input.findings.size() == 1);
    CHECK(input.findings[0].item == 0);
    const audit::pooled_model model{input.season, figures::audit_options()};
    CHECK(model.total().on_hand_estimate == 0.0);
    CHECK(input.weighed == quantity::weight{110'000});
}

TEST_CASE("a spot weight of a bundle on hand is known weight, not a prediction") {
    const auto input = input_of({{"tickets.csv", ticket_head + "T2,2026-05-16,P1,bundle,B1,,,50,lb,manual\n"}});
    REQUIRE(input.rows.size() == 1);
    CHECK(input.on_hand.size() == 2);
    CHECK(input.on_hand_spot == quantity::weight{50'000});
    CHECK(input.weighed == quantity::weight{});
    CHECK(std::count_if(input.season.bundles.begin(), input.season.bundles.end(),
                        [](const auto& each) { return each.bale < 0; }) == 1);
}

TEST_CASE("bales that share a load's ticket are one row, not separate weighings") {
    const auto input =
        input_of({{"bales.csv", "bale,date,site,bundle\nL1,2026-05-20,S2,B1\nL2,2026-05-20,S2,B2\n"},
                  {"shipments.csv",
                   "shipment,date,processor,bale,carrier,bill_of_lading\n"
                   "SH1,2026-05-25,Fen Polymer,L1,Low Road,BOL1\nSH1,2026-05-25,Fen Polymer,L2,Low Road,BOL1\n"},
                  {"tickets.csv", ticket_head + "T1,2026-05-25,P1,load,SH1,,,111,lb,printed\n"}});
    REQUIRE(input.rows.size() == 1);
    CHECK(input.rows[0].what == audit_row::kind::load);
    CHECK(input.season.bales[0].net == 111.0);
    CHECK(input.season.bundles[0].bale == 0);
    CHECK(input.season.bundles[1].bale == 0);
}

TEST_CASE("a division in kilograms is brought to the award's unit") {
    const auto input = input_of({{"scales.csv", "scale,class,capacity,division,unit\nP1,III,1500,0.5,kg\n"}});
    CHECK(input.season.bales[0].division == Approx(1.102));
}

TEST_CASE("a model's weight is rounded half up to thousandths") {
    CHECK(figures::as_weight(0.0625) == quantity::weight{63});
    CHECK(figures::as_weight(-0.0625) == quantity::weight{-62});
    CHECK(figures::as_weight(12.25) == quantity::weight{12'250});
    CHECK_THROWS_AS(figures::as_weight(std::nan("")), std::overflow_error);
    CHECK(figures::as_real(quantity::weight{57'600}) == 57.6);
}
