#include "refusal_case.hpp"

using namespace tarewell::tests;
using tarewell::records::kind;

// Rules along a bundle's life and of the money, one case each, on top of the base season.

TEST_CASE("a bundle is accepted once") {
    expect_refusals({
        {kind::receipt, "receipt,date,site,bundle,outcome\nRC9,2026-06-10,S1,B1,accepted\n", "receipts.csv:2:bundle",
         "bundle 'B1' was accepted before"},
        {kind::receipt, "receipt,date,site,registration,number,outcome\nRC9,2026-06-10,S1,R1,2,accepted\n",
         "receipts.csv:2:number", "bundle 'B2' was accepted before"},
        {kind::receipt,
         "receipt,date,site,bundle,outcome\nRC8,2026-06-10,S1,B3,accepted\nRC9,2026-06-10,S1,B3,accepted\n",
         "receipts.csv:3:bundle", "bundle 'B3' was accepted before"},
    });
}

TEST_CASE("a bundle that was rejected or held may come back") {
    base_season season;
    season.take_all();
    CHECK(season
              .take(kind::receipt, "receipt,date,site,bundle,outcome\nRC7,2026-05-13,S1,B4,rejected\n"
                                   "RC8,2026-05-14,S1,B4,accepted\nRC9,2026-05-15,S1,B1,rejected\n")
              .taken == 3);
}

TEST_CASE("a receipt names its bundle by id or by label, and where by both they agree") {
    const auto* header = "receipt,date,site,bundle,registration,number,outcome\n";
    const auto receipt = [&](const char* named) {
        return std::string{header} + "RC9,2026-06-10,S1," + named + ",accepted\n";
    };
    const auto nothing = receipt(",,"), no_number = receipt(",R1,"), no_registration = receipt(",,3");
    const auto no_such = receipt(",R1,9"), other_one = receipt("B3,R2,"), other_number = receipt("B3,R1,1");
    const auto number_alone = receipt("B3,,3");
    expect_refusals({
        {kind::receipt, nothing.c_str(), "receipts.csv:2:bundle", "is empty, and so are registration and number"},
        {kind::receipt, no_number.c_str(), "receipts.csv:2:number", "is empty although its partner is given"},
        {kind::receipt, no_registration.c_str(), "receipts.csv:2:registration", "is empty although its partner"},
        {kind::receipt, no_such.c_str(), "receipts.csv:2:number", "registration 'R1' has no bundle number 9"},
        {kind::receipt, other_one.c_str(), "receipts.csv:2:registration", "bundle 'B3' is of registration 'R1'"},
        {kind::receipt, other_number.c_str(), "receipts.csv:2:number", "bundle 'B3' is number 3, not 1"},
        {kind::receipt, number_alone.c_str(), "receipts.csv:2:registration", "is empty although its partner"},
    });
}

TEST_CASE("a bundle is in one bale and a bale in one shipment") {
    expect_refusals({
        {kind::bale, "bale,date,site,bundle\nL9,2026-05-20,S2,B1\n", "bales.csv:2:bundle",
         "bundle 'B1' is in bale 'L1' already"},
        {kind::bale, "bale,date,site,bundle\nL8,2026-05-20,S2,B3\nL9,2026-05-20,S2,B3\n", "bales.csv:3:bundle",
         "bundle 'B3' is in bale 'L8' already"},
        {kind::shipment, "shipment,date,processor,bale\nSH9,2026-05-25,Fen Polymer,L1\n", "shipments.csv:2:bale",
         "bale 'L1' is in shipment 'SH1' already"},
    });
}

TEST_CASE("a reject names a bundle or a bale, and its unit comes with its weight") {
    const auto* header = "reject,date,stage,bundle,bale,weight,unit,reason\n";
    const auto reject = [&](const char* named) {
        return std::string{header} + "J9,2026-05-30,baler," + named + ",twine\n";
    };
    const auto neither = reject(",,,"), both = reject("B1,L1,,"), no_unit = reject("B1,,5,"),
               no_weight = reject("B1,,,lb");
    expect_refusals({
        {kind::reject, neither.c_str(), "rejects.csv:2:bundle", "is empty, and so is bale"},
        {kind::reject, both.c_str(), "rejects.csv:2:bale", "is given, and so is bundle"},
        {kind::reject, no_unit.c_str(), "rejects.csv:2:unit", "is empty although weight is given"},
        {kind::reject, no_weight.c_str(), "rejects.csv:2:weight", "is empty although unit is given"},
    });
}

TEST_CASE("a ticket's net is its gross less its tare exactly") {
    const auto* header = "ticket,date,scale,weighs,subject,gross,tare,net,unit,entry,as_printed\n";
    const auto ticket = [&](const char* weights) {
        return std::string{header} + "T9,2026-05-21,P1,bale,L1," + weights + "\n";
    };
    const auto wrong = ticket("150,40,111,lb,printed,"), by_little = ticket("150,40,109.999,lb,printed,no");
    const auto below = ticket("40,150,110,lb,printed,");
    expect_refusals({
        {kind::ticket, wrong.c_str(), "tickets.csv:2:net", "111 is not gross 150 less tare 40, which is 110"},
        {kind::ticket, by_little.c_str(), "tickets.csv:2:net", "which is 110"},
        {kind::ticket, below.c_str(), "tickets.csv:2:net", "which is -110"},
    });
    base_season season;
    season.take_all();
    // read in Measurement Canada lm04642: 45,010 - 20,000 = 25,010 although 25,002 was perceived.
    CHECK(season.take(kind::ticket, ticket("45010,20000,25010.0,lb,printed,")).taken == 1);
    CHECK(season
              .take(kind::ticket, std::string{header} + "T8,2026-05-21,P1,bale,L1,150,40,111,lb,printed,yes\n"
                                                        "T7,2026-05-21,P1,bale,L1,150,,111,lb,printed,\n")
              .taken == 2);
}

TEST_CASE("a cost row of the indirect category is refused where the award sets a percent") {
    const auto* row = "cost,date,category,description,amount,fund\nC9,2026-05-03,indirect,overhead,5,grant\n";
    expect_refusals({{kind::cost, row, "costs.csv:2:category", "worked out from the award's indirect_percent"}});
    base_season season;
    season.take(kind::award, "award,agency,program,region,begins,ends,goal_tons,quarter_starts,unit\n"
                             "KB-26,Basin Agency,Kestrel Basin film,KB,2026-01-01,2026-12-31,30,1,lb\n");
    CHECK(season.take(kind::cost, row).taken == 1);
}

TEST_CASE("an in-kind gift or a cover past what a ledger can hold is refused in its line") {
    expect_refusals(
        {{kind::inkind, "inkind,date,kind,giver,quantity,rate\nI9,2026-05-04,hours,Ola,999999999,999999999\n",
          "inkind.csv:2:quantity", "passes what a ledger can hold"}});
    base_season season;
    season.take_all();
    season.take(kind::cover, "registration,date,grower,site,cover,length_ft,width_ft,layers\n"
                             "R8,2026-05-01,G1,S1,1,96,30,1\n");
    const auto lines = season.refusals(kind::cover, "registration,date,grower,site,cover,length_ft,width_ft,layers\n"
                                                    "R9,2026-05-01,G1,S1,1,999999999,999999999,999999999\n");
    REQUIRE(lines.size() == 1);
    CHECK_THAT(lines[0], Catch::Matchers::StartsWith("covers.csv:2:length_ft: "));
}

TEST_CASE("a scale's certificate ends after it begins") {
    expect_refusals({{kind::scale,
                      "scale,class,capacity,division,unit,certified_on,certified_until\n"
                      "P9,III,5000,1,lb,2026-05-01,2026-04-30\n",
                      "scales.csv:2:certified_until", "is before certified_on"}});
}

TEST_CASE("a setting is one that there is, with a value that it can take") {
    expect_refusals({
        {kind::setting, "setting,from,value\nbirds,,5\n", "settings.csv:2:setting", "no setting is called 'birds'"},
        {kind::setting, "setting,from,value\ncurvature_factor,,0\n", "settings.csv:2:value", "is no value of"},
        {kind::setting, "setting,from,value\ncurvature_factor,,high\n", "settings.csv:2:value", "is no value of"},
        {kind::setting, "setting,from,value\nsubaward_limit,,1.005\n", "settings.csv:2:value", "is no value of"},
    });
}
