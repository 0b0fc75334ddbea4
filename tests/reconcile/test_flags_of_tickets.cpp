#include "flag_case.hpp"

using namespace tarewell::tests;

namespace {

const char* const l2 = "L2,150,40,110,lb,printed,\n"; // as it stands in the quiet season

season_files ticket_of_l2(std::string_view rest) { return quiet_but("tickets.csv", l2, rest); }

/// Tickets T1 and T2 on a day, of a scale with the certificate given.
season_files certified(std::string_view from_until, std::string_view second_day) {
    return changed(quiet_but("scales.csv", "2026-01-01,2026-12-31", from_until), "tickets.csv", "T2,2026-05-22",
                   fmt::format("T2,{}", second_day));
}
/// Both tickets say that they are number 17; the second is of the scale given.
season_files numbered(std::string_view second_scale) {
    auto files = quiet_and("scales.csv", "P2,III,5000,1,lb,2026-01-01,2026-12-31\n");
    files["tickets.csv"] = fmt::format("ticket,date,scale,weighs,subject,net,unit,entry,document\n"
                                       "T1,2026-05-22,P1,bale,L1,150,lb,printed,00017\n"
                                       "T2,2026-05-22,{},bale,L2,110,lb,printed,00017\n",
                                       second_scale);
    return files;
}
season_files check_weight(std::string_view net) {
    return quiet_and("tickets.csv", fmt::format("T3,2026-05-23,P1,bale,L2,,,{},lb,printed,\n", net));
}
season_files load_weight(std::string_view net) {
    return quiet_and("tickets.csv", fmt::format("T3,2026-05-25,P1,load,SH1,,,{},lb,printed,\n", net));
}
/// Both bales are weighed by their load alone, at 260 lb, and the load is weighed again.
season_files load_weighed_twice(std::string_view net) {
    auto files = quiet_season();
    files["tickets.csv"] = fmt::format("ticket,date,scale,weighs,subject,net,unit,entry\n"
                                       "T3,2026-05-25,P1,load,SH1,260,lb,printed\n"
                                       "T4,2026-05-26,P1,load,SH1,{},lb,printed\n",
                                       net);
    return files;
}
season_files spot_weight(std::string_view day) {
    return quiet_and("tickets.csv", fmt::format("T3,{},P1,bundle,B1,,,57,lb,printed,\n", day));
}
/// Bundle B6 of R3 is weighed alone, held at a site before or never seen there.
season_files spot_weight_of_b6(bool held) {
    auto files = with_registration(quiet_season(), "B6,R3,1,1,,\n");
    if (held) files = added(files, "receipts.csv", "RC6,2026-05-15,S1,B6,held,wet,\n");
    return added(files, "tickets.csv", "T3,2026-05-20,P1,bundle,B6,,,57,lb,printed,\n");
}
season_files only_the_load(std::string_view net) {
    return added(quiet_but("tickets.csv", "T2,2026-05-22,P1,bale,L2,150,40,110,lb,printed,\n", ""), "tickets.csv",
                 fmt::format("T3,2026-05-25,P1,load,SH1,,,{},lb,printed,\n", net));
}

} // namespace

std::vector<flag_case> tarewell::tests::flag_cases_of_tickets() {
    return {
        // read in Measurement Canada lm04642: printed net must equal printed gross less tare, 45,010 - 20,000 = 25,010,
        // although 25,002 was perceived.
        {"a ticket that prints a net which is not gross less tare", "net-as-printed",
         ticket_of_l2("L2,45010,20000,25002,lb,printed,yes\n"), "T2", "2026-05-22", "ticket T2",
         "Ticket T2 of 2026-05-22: it prints net 25002 lb, but gross less tare is 25010.",
         ticket_of_l2("L2,45010,20000,25010,lb,printed,yes\n")},
        {"a ticket taken in as printed that lacks its tare has nothing to differ from", "net-as-printed",
         ticket_of_l2("L2,150.5,40.25,110,lb,printed,yes\n"), "T2", "2026-05-22", "ticket T2",
         "Ticket T2 of 2026-05-22: it prints net 110 lb, but gross less tare is 110.25.",
         ticket_of_l2("L2,150.5,,110,lb,printed,yes\n")},
        {"a net between two divisions of its scale", "off-division", ticket_of_l2("L2,,,110.5,lb,printed,\n"), "T2",
         "2026-05-22", "ticket T2",
         "Ticket T2 of 2026-05-22: net 110.5 lb is not a multiple of scale P1's division, 1 lb.",
         ticket_of_l2("L2,,,110.0,lb,printed,\n")},
        {"a gross above the scale's capacity; the capacity itself is in", "over-capacity",
         ticket_of_l2("L2,5001,4891,110,lb,printed,\n"), "T2", "2026-05-22", "ticket T2",
         "Ticket T2 of 2026-05-22: its gross is above scale P1's capacity, 5000 lb.",
         ticket_of_l2("L2,5000,4890,110,lb,printed,\n")},
        {"a net above the capacity, where no gross is told", "over-capacity", ticket_of_l2("L2,,,5001,lb,printed,\n"),
         "T2", "2026-05-22", "ticket T2", "Ticket T2 of 2026-05-22: its net is above scale P1's capacity, 5000 lb.",
         ticket_of_l2("L2,,,5000,lb,printed,\n")},
        {"kilograms above a capacity in pounds (1 kg is 2.2046 lb)", "over-capacity", // computed: 5000 lb = 2267.96 kg
         ticket_of_l2("L2,,,2268,kg,printed,\n"), "T2", "2026-05-22", "ticket T2",
         "Ticket T2 of 2026-05-22: its net is above scale P1's capacity, 5000 lb.",
         ticket_of_l2("L2,,,2267,kg,printed,\n")},
        // Class III at 5,000 divisions: 5 d (read in a secondary source: a copy of NIST Handbook 44, 2.20 Table 6).
        {"a gross further above the capacity than its tolerance", "beyond-capacity",
         ticket_of_l2("L2,5006,4896,110,lb,printed,\n"), "T2", "2026-05-22", "ticket T2",
         "Ticket T2 of 2026-05-22: its gross is above scale P1's capacity, 5000 lb.",
         ticket_of_l2("L2,5005,4895,110,lb,printed,\n")},
        {"one printed ticket under two ids; the same number on another scale is another ticket", "ticket-twice",
         numbered("P1"), "T2", "2026-05-22", "ticket T2, ticket T1",
         "Tickets T1 and T2 are both number 00017 of scale P1.", numbered("P2")},
        {"a ticket in another unit than its scale", "other-unit", ticket_of_l2("L2,70,20,50,kg,printed,\n"), "T2",
         "2026-05-22", "ticket T2", "Ticket T2 of 2026-05-22: it is in kg and scale P1 weighs in lb.", quiet_season()},
        {"a ticket the day after the certificate ends; its last day is in", "certificate",
         certified("2026-01-01,2026-05-22", "2026-05-23"), "T2", "2026-05-23", "ticket T2",
         "Ticket T2 of 2026-05-23: scale P1 was certified from 2026-01-01 to 2026-05-22.",
         certified("2026-01-01,2026-05-22", "2026-05-22")},
        {"a ticket the day before the certificate begins; its first day is in", "certificate",
         certified("2026-05-22,", "2026-05-21"), "T2", "2026-05-21", "ticket T2",
         "Ticket T2 of 2026-05-21: scale P1 was certified from 2026-05-22 to no date.",
         certified("2026-05-22,", "2026-05-22")},
        // read in a secondary source: a copy of NIST Handbook 44 (2023), 2.20 Table 8: class III, 20 d.
        {"a net below 20 divisions on a class III scale; 20 is enough", "below-minimum",
         ticket_of_l2("L2,,,19,lb,printed,\n"), "T2", "2026-05-22", "ticket T2",
         "Ticket T2 of 2026-05-22: net 19 lb is below 20 divisions, the least load of class III.",
         ticket_of_l2("L2,,,20,lb,printed,\n")},
        // Class III, to 500 divisions 1 d (read in a secondary source, the same, Table 6): two tickets of P1 may differ
        // by 2 lb.
        {"a check weight beyond both scales' tolerances; 2 lb is within", "check-weight-off", check_weight("113"), "T3",
         "2026-05-23", "ticket T3, ticket T2",
         "Check ticket T3 on bale L2 says 113 lb and ticket T2 says 110 lb; the scales' tolerances allow 2 lb.",
         check_weight("112")},
        {"a check weight that is too light", "check-weight-off", check_weight("107"), "T3", "2026-05-23",
         "ticket T3, ticket T2",
         "Check ticket T3 on bale L2 says 107 lb and ticket T2 says 110 lb; the scales' tolerances allow 2 lb.",
         check_weight("108")},
        {"a second ticket of the same net; a pound more is another weighing", "weighed-again", check_weight("110"),
         "T3", "2026-05-23", "ticket T3, ticket T2",
         "Ticket T3 on bale L2 says 110 lb as ticket T2 does: is it one weighing recorded twice?", check_weight("111")},
        {"a check weight within both scales' tolerances; beyond them it is off", "check-weight", check_weight("112"),
         "T3", "2026-05-23", "ticket T3, ticket T2",
         "Bale L2 was weighed once more: ticket T3 says 112 lb, and ticket T2, which decides, 110 lb.",
         check_weight("113")},
        {"a bundle weighed alone the day before it was received; on that day is in time", "spot-before-received",
         spot_weight("2026-05-09"), "T3", "2026-05-09", "ticket T3",
         "Bundle B1 (1 of 3) was weighed alone on 2026-05-09 (ticket T3) and was received on 2026-05-10.",
         spot_weight("2026-05-10")},
        {"a bundle weighed alone that nobody received; a receipt that holds it is one", "spot-before-received",
         spot_weight_of_b6(false), "T3", "2026-05-20", "ticket T3",
         "Bundle B6 (1 of 1) was weighed alone on 2026-05-20 (ticket T3) and has no receipt.", spot_weight_of_b6(true)},
        {"a load that differs from its bales by more than three tickets' tolerances", "load-off", load_weight("264"),
         "T3", "2026-05-25", "ticket T3",
         "Ticket T3 on load SH1 says 264 lb and its bales together 260 lb; the scales' tolerances allow 3 lb.",
         load_weight("263")},
        {"a second ticket on a load against the one that weighed its bales", "load-off", load_weighed_twice("263"),
         "T4", "2026-05-26", "ticket T4",
         "Ticket T4 on load SH1 says 263 lb and its bales together 260 lb; the scales' tolerances allow 2 lb.",
         load_weighed_twice("262")},
        {"a load that leaves its unweighed bale nothing; a pound is something", "load-empty", only_the_load("150"),
         "T3", "2026-05-25", "ticket T3",
         "Ticket T3 on load SH1 leaves nothing for the bales without a ticket of their own; they stay unweighed.",
         only_the_load("151")},
    };
}

TEST_CASE("a ticket's flags are raised on their rows and day, and not by a near miss") {
    check_flags(flag_cases_of_tickets());
}

TEST_CASE("a scale of a class that is not known is held to no minimum and allows no difference") {
    const auto unknown_class = changed(check_weight("111"), "scales.csv", "P1,III,", "P1,crane,");
    CHECK(flags_with_code(reckoned_season{unknown_class}, "check-weight-off").size() == 1);
    const auto light = changed(ticket_of_l2("L2,,,1,lb,printed,\n"), "scales.csv", "P1,III,", "P1,crane,");
    CHECK(flags_with_code(reckoned_season{light}, "below-minimum").empty());
}
