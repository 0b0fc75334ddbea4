#include "refusal_case.hpp"

using namespace tarewell::tests;
using tarewell::records::kind;

// One case for each rule of the interchange format that refuses, on top of the base season.

TEST_CASE("an id that nothing defines is refused by name") {
    expect_refusals({
        {kind::cover, "registration,date,grower,site,cover\nR9,2026-05-01,G9,S1,1\n", "covers.csv:2:grower",
         "no grower 'G9' is defined"},
        {kind::cover, "registration,date,grower,site,cover\nR9,2026-05-01,G1,s1,1\n", "covers.csv:2:site",
         "no site 's1' is defined"}, // ids are case-sensitive
        {kind::bundle, "bundle,registration,number,of\nB9,R9,1,1\n", "bundles.csv:2:registration",
         "no registration 'R9' is defined"},
        {kind::receipt, "receipt,date,site,bundle,outcome\nRC9,2026-05-10,S9,B3,accepted\n", "receipts.csv:2:site",
         "no site 'S9'"},
        {kind::receipt, "receipt,date,site,bundle,outcome\nRC9,2026-05-10,S1,B9,accepted\n", "receipts.csv:2:bundle",
         "no bundle 'B9'"},
        {kind::haul, "haul,date,from,to,bundle\nH9,2026-05-15,S1,S9,B1\n", "hauls.csv:2:to", "no site 'S9'"},
        {kind::bale, "bale,date,site,bundle\nL9,2026-05-20,S2,B9\n", "bales.csv:2:bundle", "no bundle 'B9'"},
        {kind::reject, "reject,date,stage,bale,reason\nJ9,2026-05-30,baler,L9,twine\n", "rejects.csv:2:bale",
         "no bale 'L9'"},
        {kind::shipment, "shipment,date,processor,bale\nSH9,2026-05-25,Fen Polymer,L9\n", "shipments.csv:2:bale",
         "no bale 'L9'"},
        {kind::ticket, "ticket,date,scale,weighs,subject,net,unit,entry\nT9,2026-05-21,P9,bale,L1,5,lb,printed\n",
         "tickets.csv:2:scale", "no scale 'P9'"},
        {kind::ticket, "ticket,date,scale,weighs,subject,net,unit,entry\nT9,2026-05-21,P1,load,L1,5,lb,printed\n",
         "tickets.csv:2:subject", "no shipment 'L1'"}, // a bale's id where a load's is asked for
        {kind::ticket, "ticket,date,scale,weighs,subject,net,unit,entry\nT9,2026-05-21,P1,bundle,L1,5,lb,printed\n",
         "tickets.csv:2:subject", "no bundle 'L1'"},
        {kind::acceptance, "shipment,date,weight,unit\nSH9,2026-06-01,5,lb\n", "acceptances.csv:2:shipment",
         "no shipment 'SH9'"},
        {kind::inkind, "inkind,date,kind,giver,site,quantity,rate\nI9,2026-05-04,hours,Ola,S9,1,1\n",
         "inkind.csv:2:site", "no site 'S9'"},
    });
}

TEST_CASE("a grower of another region is refused") {
    expect_refusals(
        {{kind::grower, "grower,name,region\nG9,Ola,kb\n", "growers.csv:2:region", "'kb' is not the award's region"}});
}

TEST_CASE("a cover's sizes are all given or all empty") {
    const auto* header = "registration,date,grower,site,cover,length_ft,width_ft,layers,rise_ft,mil\n";
    const auto cover = [&](const char* sizes) { return std::string{header} + "R9,2026-05-01,G1,S1,1," + sizes + "\n"; };
    const auto no_length = cover(",30,1,,"), no_width = cover("96,,1,,"), no_layers = cover("96,30,,,");
    const auto flat = cover("96,30,1,0,"), thin = cover("96,30,1,,0");
    expect_refusals({
        {kind::cover, no_length.c_str(), "covers.csv:2:length_ft", "the cover has other sizes"},
        {kind::cover, no_width.c_str(), "covers.csv:2:width_ft", "the cover has other sizes"},
        {kind::cover, no_layers.c_str(), "covers.csv:2:layers", "the cover has other sizes"},
        {kind::cover, flat.c_str(), "covers.csv:2:rise_ft", "is not above 0"},
        {kind::cover, thin.c_str(), "covers.csv:2:mil", "is not above 0"},
    });
}

TEST_CASE("rows of one record agree on what they share") {
    expect_refusals({
        {kind::cover, "registration,date,grower,site,cover\nR1,2026-05-02,G1,S1,2\n", "covers.csv:2:date", "R1"},
        {kind::cover, "registration,date,grower,site,cover\nR1,2026-05-01,G2,S1,2\n", "covers.csv:2:grower", "R1"},
        {kind::cover, "registration,date,grower,site,cover\nR1,2026-05-01,G1,S2,2\n", "covers.csv:2:site", "R1"},
        {kind::haul, "haul,date,from,to,bundle,driver\nH1,2026-05-16,S1,S2,B3,Ola\n", "hauls.csv:2:date", "H1"},
        {kind::haul, "haul,date,from,to,bundle,driver\nH1,2026-05-15,S2,S2,B3,Ola\n", "hauls.csv:2:from", "H1"},
        {kind::haul, "haul,date,from,to,bundle,driver\nH1,2026-05-15,S1,S1,B3,Ola\n", "hauls.csv:2:to", "H1"},
        {kind::haul, "haul,date,from,to,bundle,driver\nH1,2026-05-15,S1,S2,B3,Wim\n", "hauls.csv:2:driver", "H1"},
        {kind::bale, "bale,date,site,bundle\nL1,2026-05-21,S2,B3\n", "bales.csv:2:date", "L1"},
        {kind::bale, "bale,date,site,bundle\nL1,2026-05-20,S1,B3\n", "bales.csv:2:site", "L1"},
    });
}

TEST_CASE("rows of one shipment agree on what they share") {
    const auto* header = "shipment,date,processor,bale,carrier,bill_of_lading\n";
    const auto rows = [&](const char* second) { return std::string{header} + second + "\n"; };
    const auto day = rows("SH1,2026-05-26,Fen Polymer,L2,Low Road,BOL1"),
               to = rows("SH1,2026-05-25,Fen,L2,Low Road,BOL1");
    const auto by = rows("SH1,2026-05-25,Fen Polymer,L2,,BOL1"),
               bill = rows("SH1,2026-05-25,Fen Polymer,L2,Low Road,BOL2");
    base_season season;
    season.take_all();
    season.take(kind::bale, "bale,date,site,bundle\nL2,2026-05-20,S2,B3\n");
    const auto where = [&](const std::string& text) {
        const auto lines = season.refusals(kind::shipment, text);
        return lines.size() == 1 ? lines[0].substr(0, lines[0].find(": ")) : "";
    };
    CHECK(where(day) == "shipments.csv:2:date");
    CHECK(where(to) == "shipments.csv:2:processor");
    CHECK(where(by) == "shipments.csv:2:carrier");
    CHECK(where(bill) == "shipments.csv:2:bill_of_lading");
    CHECK(season.take(kind::shipment, rows("SH1,2026-05-25,Fen Polymer,L2,Low Road,BOL1")).taken == 1);
}

TEST_CASE("a registration's bundles agree and are numbered once each") {
    expect_refusals({
        {kind::bundle, "bundle,registration,number,of\nB9,R1,4,4\n", "bundles.csv:2:of", "4 differs from 3"},
        {kind::bundle, "bundle,registration,number,of\nB9,R1,2,3\n", "bundles.csv:2:number", "is number 2"},
    });
}

TEST_CASE("a number is at most of, and an estimate comes with its unit") {
    base_season season;
    season.take_all();
    season.take(kind::cover, "registration,date,grower,site,cover,length_ft,width_ft,layers\n"
                             "R9,2026-05-01,G1,S1,1,96,30,1\n");
    const auto refusal = [&](const std::string& values) {
        const auto lines =
            season.refusals(kind::bundle, "bundle,registration,number,of,estimate,unit\nB9,R9," + values + "\n");
        return lines.size() == 1 ? lines[0].substr(0, lines[0].find(';')) : "";
    };
    CHECK(refusal("3,2,,") == "bundles.csv:2:number: 3 is more than of, 2");
    CHECK(refusal("1,2,40,") == "bundles.csv:2:unit: is empty although estimate is given");
    CHECK(refusal("1,2,,lb") == "bundles.csv:2:estimate: is empty although unit is given");
}

TEST_CASE("an estimate that leaves nothing for a bundle without one is refused") {
    base_season season;
    season.take_all();
    season.take(kind::cover, "registration,date,grower,site,cover,length_ft,width_ft,layers\n"
                             "R8,2026-05-01,G1,S1,1,,,\nR9,2026-05-01,G1,S1,1,96,30,1\n");
    const auto where = [&](const char* text) {
        const auto lines = season.refusals(kind::bundle, text);
        return lines.size() == 1 ? lines[0].substr(0, lines[0].find(": ")) : "";
    };
    CHECK(where("bundle,registration,number,of\nB9,R8,1,1\n") == "bundles.csv:2:estimate");
    // 172.8 lb worked out: own estimates that reach it leave nothing for the other bundle.
    CHECK(where("bundle,registration,number,of,estimate,unit\nB8,R9,1,2,172.8,lb\nB9,R9,2,2,,\n") ==
          "bundles.csv:3:estimate");
    CHECK(season
              .take(kind::bundle, "bundle,registration,number,of,estimate,unit\n"
                                  "B8,R9,1,2,172.799,lb\nB9,R9,2,2,,\n")
              .taken == 2);
}

TEST_CASE("own estimates stand even where they pass the worked-out one") {
    base_season season;
    season.take_all();
    season.take(kind::cover, "registration,date,grower,site,cover,length_ft,width_ft,layers\n"
                             "R9,2026-05-01,G1,S1,1,96,30,1\n");
    CHECK(season
              .take(kind::bundle, "bundle,registration,number,of,estimate,unit\n"
                                  "B8,R9,1,2,300,lb\nB9,R9,2,2,300,lb\n")
              .taken == 2);
    const auto lines = season.refusals(kind::bundle, "bundle,registration,number,of,estimate,unit\nB7,R9,1,2,1,lb\n");
    CHECK(lines.size() == 1);
}
