#include "quiet_season.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using records::kind;

namespace {

/// "150.000 on 2026-05-22 by T1": what decides a bale's weight.
std::string weighing_of(const reckoned_season& season, std::string_view bale) {
    const auto& weighed = season.bale(bale).weighed;
    if (!weighed) return "not weighed";
    return fmt::format("{} on {} by {}{}", quantity::text_of(weighed->net), quantity::text_of(weighed->on),
                       season.season().tickets[weighed->ticket].id, weighed->by_load ? " of the load" : "");
}
std::string weighing_of(const season_files& files, std::string_view bale) {
    return weighing_of(reckoned_season{files}, bale);
}

season_files with_tickets(std::string_view rows) {
    auto files = quiet_season();
    files["tickets.csv"] = "ticket,date,scale,weighs,subject,net,unit,entry\n" + std::string{rows};
    return files;
}

std::vector<std::string> ids_of(const reckoned_season& season, const std::vector<std::size_t>& tickets) {
    std::vector<std::string> ids;
    for (const auto index : tickets)
        ids.push_back(season.season().tickets[index].id);
    return ids;
}

} // namespace

TEST_CASE("a bale weighs what its own first ticket says, by date") {
    CHECK(
        weighing_of(with_tickets("T1,2026-05-23,P1,bale,L1,150,lb,printed\nT2,2026-05-22,P1,bale,L1,151,lb,printed\n"),
                    "L1") == "151.000 on 2026-05-22 by T2");
}

TEST_CASE("of two tickets on one day the first in order of entry decides, and the other is a check weight") {
    const reckoned_season season{
        with_tickets("T2,2026-05-22,P1,bale,L1,151,lb,printed\nT1,2026-05-22,P1,bale,L1,150,lb,printed\n")};
    CHECK(weighing_of(season, "L1") == "151.000 on 2026-05-22 by T2");
    CHECK(ids_of(season, season.reckoned().check_tickets) == std::vector<std::string>{"T1"});
}

TEST_CASE("a corrected ticket keeps its place in the order of entry, and a voided one gives its place up") {
    reckoned_season season{
        with_tickets("T1,2026-05-22,P1,bale,L1,150,lb,printed\nT2,2026-05-22,P1,bale,L1,151,lb,printed\n")};
    intake::correct(season.file(), kind::ticket, {"T1"}, {{"net", "149"}}, "misread", season.around());
    season.read(season.head());
    CHECK(weighing_of(season, "L1") == "149.000 on 2026-05-22 by T1");
    intake::void_record(season.file(), kind::ticket, {"T1"}, "another bale's", season.around());
    season.read(season.head());
    CHECK(weighing_of(season, "L1") == "151.000 on 2026-05-22 by T2");
}

TEST_CASE("a ticket in kilograms weighs a bale in pounds, rounded half up once") {
    // computed: 50 kg / 0.45359237 = 110.231131... lb; 0.453592 kg = 0.9999991... lb.
    CHECK(weighing_of(with_tickets("T1,2026-05-22,P1,bale,L1,50,kg,printed\n"), "L1") == "110.231 on 2026-05-22 by T1");
    CHECK(weighing_of(with_tickets("T1,2026-05-22,P1,bale,L1,0.453592,kg,printed\n"), "L1") ==
          "1.000 on 2026-05-22 by T1");
}

TEST_CASE("a load's ticket weighs the bales that have none of their own, by estimate") {
    // computed: estimates 158.4 and 100.8 lb share 260 lb as 158.888... and 101.111...
    const auto files = with_tickets("T3,2026-05-25,P1,load,SH1,260,lb,printed\n");
    CHECK(weighing_of(files, "L1") == "158.889 on 2026-05-25 by T3 of the load");
    CHECK(weighing_of(files, "L2") == "101.111 on 2026-05-25 by T3 of the load");
}

TEST_CASE("a bale's own ticket stands before its load's, and takes its weight off the load") {
    const auto files =
        with_tickets("T3,2026-05-21,P1,load,SH1,260,lb,printed\nT1,2026-05-27,P1,bale,L1,150,lb,printed\n");
    CHECK(weighing_of(files, "L1") == "150.000 on 2026-05-27 by T1");
    CHECK(weighing_of(files, "L2") == "110.000 on 2026-05-21 by T3 of the load");
}

TEST_CASE("odd thousandths of a load go to the first bale by id") {
    auto files = with_tickets("T3,2026-05-25,P1,load,SH1,100.001,lb,printed\n");
    files["bundles.csv"] = "bundle,registration,number,of,estimate,unit\n"
                           "B1,R1,1,3,30,lb\nB2,R1,2,3,30,lb\nB3,R1,3,3,60,lb\nB4,R2,1,2,40,lb\nB5,R2,2,2,40,lb\n";
    files["shipments.csv"] =
        "shipment,date,processor,bale\nSH1,2026-05-25,Fen Polymer,L2\nSH1,2026-05-25,Fen Polymer,L1\n";
    const reckoned_season season{files};
    REQUIRE(season.bale("L1").estimate == season.bale("L2").estimate);
    CHECK(weighing_of(season, "L1") == "50.001 on 2026-05-25 by T3 of the load");
    CHECK(weighing_of(season, "L2") == "50.000 on 2026-05-25 by T3 of the load");
}

TEST_CASE("a load that leaves nothing leaves its bales unweighed") {
    for (const auto* net : {"150", "149"}) {
        const reckoned_season season{with_tickets(fmt::format("T1,2026-05-22,P1,bale,L1,150,lb,printed\n"
                                                              "T3,2026-05-25,P1,load,SH1,{},lb,printed\n",
                                                              net))};
        CHECK(weighing_of(season, "L2") == "not weighed");
        CHECK(ids_of(season, season.reckoned().empty_loads) == std::vector<std::string>{"T3"});
        CHECK(text_of(season.figures({2026, 2}), "bale_net_weight") == "150.000");
    }
}

TEST_CASE("the load's first ticket decides, and with every bale weighed it is a check weight") {
    const reckoned_season two{
        with_tickets("T4,2026-05-26,P1,load,SH1,300,lb,printed\nT3,2026-05-25,P1,load,SH1,260,lb,printed\n")};
    CHECK(weighing_of(two, "L2") == "101.111 on 2026-05-25 by T3 of the load");
    CHECK(ids_of(two, two.reckoned().check_tickets) == std::vector<std::string>{"T4"});
    const reckoned_season own{added(quiet_season(), "tickets.csv", "T3,2026-05-25,P1,load,SH1,,,290,lb,printed,\n")};
    CHECK(weighing_of(own, "L2") == "110.000 on 2026-05-22 by T2");
    CHECK(ids_of(own, own.reckoned().check_tickets) == std::vector<std::string>{"T3"});
}

TEST_CASE("a spot weight on a bundle weighs no bale") {
    const reckoned_season season{with_tickets("T3,2026-05-15,P1,bundle,B3,60,lb,manual\n")};
    CHECK(weighing_of(season, "L2") == "not weighed");
    CHECK(season.bundle("B3").spot_ticket.has_value());
}
