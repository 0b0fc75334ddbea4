#include "flag_case.hpp"

using namespace tarewell::tests;

namespace {

/// The quiet season with bale L2 weighed at `net`, without gross and tare.
season_files weighed_at(std::string_view net) {
    return quiet_but("tickets.csv", "L2,150,40,110", fmt::format("L2,,,{}", net));
}
season_files with_setting(season_files files, std::string_view name, std::string_view value) {
    return added(std::move(files), "settings.csv", fmt::format("{},,{}\n", name, value));
}
season_files spot_weight(std::string_view net) {
    return quiet_and("tickets.csv", fmt::format("T3,2026-05-14,P1,bundle,B5,,,{},lb,manual,\n", net));
}

/// Eight bales of one bundle each beside the two, that weigh about what they claim (86.4 lb); the last weighs `net`.
season_files ten_bales(std::string_view net) {
    auto files = quiet_season();
    const std::string_view nets[] = {"84", "86", "88", "85", "87", "83", "86", net};
    int k = 0;
    for (const auto each : nets) {
        ++k;
        files = added(files, "covers.csv", fmt::format("RK{},2026-05-05,G1,S2,1,48,30,1,\n", k));
        files = added(files, "bundles.csv", fmt::format("BK{0},RK{0},1,1,,\n", k));
        files = added(files, "receipts.csv", fmt::format("RCK{0},2026-05-15,S2,BK{0},accepted,,\n", k));
        files = added(files, "bales.csv", fmt::format("K{0},2026-05-20,S2,BK{0}\n", k));
        files = added(files, "tickets.csv", fmt::format("TK{0},2026-05-20,P1,bale,K{0},,,{1},lb,printed,\n", k, each));
    }
    return files;
}

season_files without_ticket() {
    return quiet_but("tickets.csv", "T2,2026-05-22,P1,bale,L2,150,40,110,lb,printed,\n", "");
}

/// Bundle B5's own estimate is 0, so that R2's other bundle takes all of it; the tolerance is wide.
season_files nothing_claimed(std::string_view spot) {
    return with_setting(added(quiet_but("bundles.csv", "B5,R2,2,2,,", "B5,R2,2,2,0,lb"), "tickets.csv", spot),
                        "estimate_tolerance_percent", "95");
}

} // namespace

std::vector<flag_case> tarewell::tests::flag_cases_of_bales() {
    return {
        {"a bundle in a bale that was only held", "baled-not-received",
         quiet_but("receipts.csv", "B5,accepted", "B5,held"), "B5", "2026-05-21", "bale L2 B5",
         "Bundle B5 (2 of 2) is in bale L2 and was never accepted.", quiet_season()},
        {"a bundle accepted the day after its bale was made; the same day is in time", "baled-before-received",
         quiet_but("receipts.csv", "RC5,2026-05-14", "RC5,2026-05-22"), "B5", "2026-05-21", "bale L2 B5, receipt RC5",
         "Bundle B5 (2 of 2) is in bale L2 of 2026-05-21 and was accepted on 2026-05-22.",
         quiet_but("receipts.csv", "RC5,2026-05-14", "RC5,2026-05-21")},
        {"a bale without a ticket; its load's would do", "not-weighed", without_ticket(), "L2", "2026-05-21",
         "bale L2 B3", "Bale L2 has no weight.",
         added(without_ticket(), "tickets.csv", "T3,2026-05-25,P1,load,SH1,,,260,lb,printed,\n")},
        {"a bale weighed the day before it was made; the same day is in time", "weighed-before-made",
         quiet_but("tickets.csv", "T2,2026-05-22", "T2,2026-05-20"), "L2", "2026-05-20", "ticket T2",
         "Bale L2 was made on 2026-05-21 and weighed on 2026-05-20.",
         quiet_but("tickets.csv", "T2,2026-05-22", "T2,2026-05-21")},
        // L1 of the same shipment was made on its day, and is not flagged.
        {"a bale shipped the day before it was made; the same day is in time", "shipped-before-made",
         changed(quiet_but("shipments.csv", "2026-05-25,Fen Polymer,L1", "2026-05-20,Fen Polymer,L1"), "shipments.csv",
                 "2026-05-25,Fen Polymer,L2", "2026-05-20,Fen Polymer,L2"),
         "L2", "2026-05-21", "bale L2 B3", "Bale L2 was made on 2026-05-21 and shipped on 2026-05-20.",
         changed(quiet_but("shipments.csv", "2026-05-25,Fen Polymer,L1", "2026-05-21,Fen Polymer,L1"), "shipments.csv",
                 "2026-05-25,Fen Polymer,L2", "2026-05-21,Fen Polymer,L2")},
        // computed: 25 % above 100.8 lb is 126 lb, 25 % below is 75.6 lb; 127/100.8 = 1.2599, 75/100.8 = 0.744.
        {"a bale more than 25 % heavier than its estimate; 25 % exactly is in", "estimate-off", weighed_at("127"), "L2",
         "2026-05-22", "ticket T2", "Bale L2 weighs 127 lb and is 26 % heavier than its estimate (100.8 lb).",
         weighed_at("126")},
        {"a bale more than 25 % lighter than its estimate", "estimate-off", weighed_at("75"), "L2", "2026-05-22",
         "ticket T2", "Bale L2 weighs 75 lb and is 26 % lighter than its estimate (100.8 lb).", weighed_at("76")},
        {"a bale beyond a tolerance of the program's own", "estimate-off",
         with_setting(quiet_season(), "estimate_tolerance_percent", "9.1"), "L2", "2026-05-22", "ticket T2",
         "Bale L2 weighs 110 lb and is 9 % heavier than its estimate (100.8 lb).", // computed: 9.2 / 100.8 = 9.127 %
         with_setting(quiet_season(), "estimate_tolerance_percent", "9.13")},
        // computed: 1.6 x 100.8 = 161.28, 0.4 x 100.8 = 40.32
        {"a bale that weighs more than 1.6 of its claim", "net-far-from-claim", weighed_at("162"), "L2", "2026-05-22",
         "ticket T2",
         "Bale L2 weighs 162 lb, 1.61 times its claim of 100.8 lb, outside 0.4 to 1.6 times: look at ticket T2, and at "
         "the "
         "bundles in the bale.",
         weighed_at("161")},
        {"a bale that weighs less than 0.4 of its claim", "net-far-from-claim", weighed_at("40"), "L2", "2026-05-22",
         "ticket T2",
         "Bale L2 weighs 40 lb, 0.40 times its claim of 100.8 lb, outside 0.4 to 1.6 times: look at ticket T2, and at the "
         "bundles in the bale.",
         weighed_at("41")},
        {"a bale beyond a limit of the program's own", "net-far-from-claim",
         with_setting(quiet_season(), "net_most_of_claim", "1.09"), "L2", "2026-05-22", "ticket T2",
         "Bale L2 weighs 110 lb, 1.09 times its claim of 100.8 lb, outside 0.4 to 1.09 times: look at ticket T2, and at "
         "the "
         "bundles in the bale.",
         with_setting(quiet_season(), "net_most_of_claim", "1.1")},
        {"a net that nine other bales do not let expect", "net-in-doubt", ten_bales("113"), "K8", "2026-05-20",
         "ticket TK8",
         "Bale K8 weighs 113 lb by ticket TK8; from the other tickets 86 lb is to be expected, 74 to 98 in 95 of 100.",
         ten_bales("99")},
        {"a net further from nine other bales", "net-unexpected", ten_bales("132"), "K8", "2026-05-20", "ticket TK8",
         "Bale K8 weighs 132 lb by ticket TK8; from the other tickets 86 lb is to be expected, 74 to 98 in 95 of 100.",
         ten_bales("113")},
        {"a net far from its claim is flagged for that alone", "net-far-from-claim", ten_bales("139"), "K8",
         "2026-05-20", "ticket TK8",
         "Bale K8 weighs 139 lb, 1.61 times its claim of 86.4 lb, outside 0.4 to 1.6 times: look at ticket TK8, and at "
         "the "
         "bundles in the bale.",
         ten_bales("138")},
        {"a bundle's spot weight far from its estimate of 43.2 lb", "estimate-off", spot_weight("60"), "B5",
         "2026-05-14", "ticket T3", "Bundle B5 (2 of 2) weighs 60 lb and is 39 % heavier than its estimate (43.2 lb).",
         spot_weight("54")}, // computed: 43.2 x 1.25 = 54
        {"a spot weight on a bundle that claims nothing", "estimate-off",
         nothing_claimed("T3,2026-05-14,P1,bundle,B5,,,20,lb,manual,\n"), "B5", "2026-05-14", "ticket T3",
         "Bundle B5 (2 of 2) weighs 20 lb and has no estimate to hold it against (0 lb).",
         nothing_claimed("T3,2026-05-14,P1,bundle,B4,,,90,lb,manual,\n")},
        // Solid LDPE, 0.92 g/cm3 (read in chemgapedia.de glossary: 0.910-0.940), is 57.43 lb/ft3 (computed,
        // water 62.428 lb/ft3 from memory); a bale's box 30 x 42 x 48 in is 35 ft3 (read in docslib.org 3794651): at
        // most 2,010.2 lb.
        {"a bale heavier than solid film of its size", "density-impossible", weighed_at("2011"), "L2", "2026-05-22",
         "ticket T2",
         "Bale L2 weighs 2011 lb: 57.5 lb/ft3 in a box of 35 ft3. Look at the ticket, or set "
         "bale_volume_ft3 to your baler's box.",
         weighed_at("2010")},
        {"no density is held against a box of size 0", "density-impossible", weighed_at("2011"), "L2", "2026-05-22",
         "ticket T2",
         "Bale L2 weighs 2011 lb: 57.5 lb/ft3 in a box of 35 ft3. Look at the ticket, or set "
         "bale_volume_ft3 to your baler's box.",
         with_setting(weighed_at("2011"), "bale_volume_ft3", "0")},
        // read in ISRI P-2022 general terms: bale density at least 10 lb/ft3, which a program may set as its low bound.
        {"a bale lighter than the program's least density", "density-low",
         with_setting(with_setting(quiet_season(), "bale_density_low_lb_per_ft3", "10"), "bale_volume_ft3", "11.5"),
         "L2", "2026-05-22", "ticket T2", "Bale L2 weighs 110 lb: 9.6 lb/ft3 in a box of 11.5 ft3.",
         with_setting(with_setting(quiet_season(), "bale_density_low_lb_per_ft3", "10"), "bale_volume_ft3", "11")},
    };
}

TEST_CASE("a bale's flags are raised on their rows and day, and not by a near miss") {
    check_flags(flag_cases_of_bales());
}
