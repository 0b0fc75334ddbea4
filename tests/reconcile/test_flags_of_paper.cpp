#include "flag_case.hpp"

using namespace tarewell::tests;

namespace {

season_files rejected(std::string_view rows) { return quiet_and("rejects.csv", rows); }

season_files accepted(std::string_view weight) { return quiet_but("acceptances.csv", "255", std::string{weight}); }
season_files with_phones(std::string_view second) {
    auto files = quiet_season();
    files["growers.csv"] = fmt::format("grower,name,region,phone\nG1,Ruth Ames,KB,555-0100\nG2,Ib Orn,KB,{}\n", second);
    return files;
}
season_files with_invoices(std::string_view second) {
    auto files = quiet_season();
    files["costs.csv"] = fmt::format("cost,date,category,description,payee,amount,fund,document\n"
                                     "C1,2026-05-03,personnel,twine,Fen Twine,40,grant,inv 7\n"
                                     "C2,2026-05-09,personnel,twine for May,Fen Twine,{},grant,inv 7\n",
                                     second);
    return files;
}

season_files with_b6_received() {
    return added(with_registration(quiet_season(), "B6,R3,1,1,,\n"), "receipts.csv", "RC6,2026-05-15,S1,B6,held,,\n");
}
season_files without_percent(std::string_view fund) {
    return added(added(quiet_but("award.csv", ",10,\n", ",,\n"), "budget.csv", "indirect,50,0\n"), "costs.csv",
                 fmt::format("C2,2026-05-03,indirect,overhead,50,{},\n", fund));
}

/// One row of each dated kind, moved to the last day before the award begins or to its first day.
flag_case outside(const char* file, const char* old_text, const char* new_text, const char* subject, const char* row,
                  const char* sentence_begins, const char* last_day_text) {
    return {fmt::format("{} dated outside the award", row),
            "outside-award",
            quiet_but(file, old_text, new_text),
            subject,
            "2027-01-01",
            row,
            fmt::format("{} is dated 2027-01-01, outside the award (2026-01-01 to 2026-12-31).", sentence_begins),
            quiet_but(file, old_text, last_day_text)};
}

} // namespace

std::vector<flag_case> tarewell::tests::flag_cases_of_paper() {
    const auto no_budget = [] {
        auto files = quiet_but("costs.csv", "personnel", "supplies");
        files["budget.csv"] = "category,grant,match\n";
        return files;
    };
    return {
        {"material that a processor rejected, with its cause and what became of it", "rejected",
         rejected("J1,2026-05-30,processor,,L2,5,lb,twine,landfilled\n"), "J1", "2026-05-30", "reject J1",
         "Bale L2: rejected by the processor: twine; 5 lb deducted; it was landfilled.", quiet_season()},
        {"a bundle that a site rejected, and nobody says what became of it", "rejected",
         rejected("J1,2026-05-12,site,B5,,,,soil,\n"), "J1", "2026-05-12", "reject J1",
         "Bundle B5 (2 of 2): rejected at the site: soil; what became of it is not told.", quiet_season()},
        {"a bundle turned away at a site; one held is not", "rejected",
         added(with_registration(quiet_season(), "B6,R3,1,1,,\n"), "receipts.csv",
               "RC6,2026-05-15,S1,B6,rejected,wet,returned\n"),
         "RC6", "2026-05-15", "receipt RC6",
         "Bundle B6 (1 of 1): rejected at site S1: wet; it was returned.", with_b6_received()},
        {"a bundle turned away and no cause told", "rejected",
         added(with_registration(quiet_season(), "B6,R3,1,1,,\n"), "receipts.csv", "RC6,2026-05-15,S1,B6,rejected,,\n"),
         "RC6", "2026-05-15", "receipt RC6",
         "Bundle B6 (1 of 1): rejected at site S1 (no cause given); what became of it is not told.", quiet_season()},
        {"a processor's reject the day before the bale was weighed; on the day it is residue", "reject-without-weight",
         rejected("J1,2026-05-21,processor,,L2,5,lb,twine,\n"), "J1", "2026-05-21", "reject J1",
         "Reject J1 is of material that was not yet weighed, or was out of the bale already; it rejects no bundle and "
         "takes off no weight.",
         rejected("J1,2026-05-22,processor,,L2,5,lb,twine,\n")},
        {"a processor's reject of a bundle in no bale; a baler's rejects it", "reject-without-weight",
         added(with_b6_received(), "rejects.csv", "J1,2026-05-21,processor,B6,,,,soil,\n"), "J1", "2026-05-21",
         "reject J1",
         "Reject J1 is of material that was not yet weighed, or was out of the bale already; it rejects no bundle and "
         "takes off no weight.",
         added(with_b6_received(), "rejects.csv", "J1,2026-05-21,baler,B6,,,,soil,\n")},
        {"a receipt that rejects a bundle after its bale was weighed; the same day is in time", "late-rejection",
         quiet_and("receipts.csv", "RC6,2026-05-23,S1,B5,rejected,soil,\n"), "RC6", "2026-05-23", "receipt RC6",
         "Receipt RC6 rejects Bundle B5 (2 of 2) after its bale was weighed; it counts for nothing. Record a reject "
         "with "
         "its weight instead.",
         quiet_and("receipts.csv", "RC6,2026-05-22,S1,B5,rejected,soil,\n")},
        {"a second reject takes more than its bale has left; what is left is within", "residue-capped",
         rejected("J1,2026-05-30,processor,,L2,80,lb,twine,\nJ2,2026-05-31,processor,,L2,40,lb,soil,\n"), "J2",
         "2026-05-31", "reject J2", "Reject J2 takes 40 lb out of bale L2, which had 30 lb left.",
         rejected("J1,2026-05-30,processor,,L2,80,lb,twine,\nJ2,2026-05-31,processor,,L2,30,lb,soil,\n")},
        {"a whole bale rejected because no weight was given", "whole-bale-rejected",
         rejected("J1,2026-05-30,processor,,L2,,,twine,landfilled\n"), "J1", "2026-05-30", "reject J1",
         "Reject J1 gives no weight, so the whole bale L2 is deducted: 110 lb. Correct it with the weight if only a "
         "part "
         "was rejected.",
         rejected("J1,2026-05-30,processor,,L2,110,lb,twine,landfilled\n")},
        // computed: shipped 150 + 110 = 260 lb, 5 % of it 13 lb
        {"a processor that accepted more than 5 % less than was shipped", "accepted-below-shipped", accepted("246.9"),
         "SH1", "2026-06-01", "acceptance SH1",
         "The processor accepted 246.9 lb of shipment SH1; by its bales' tickets 260 lb were shipped, net of what was "
         "rejected; the tolerance is 5 %.",
         accepted("247")},
        {"a processor that accepted more than 5 % more than was shipped", "accepted-above-shipped", accepted("273.1"),
         "SH1", "2026-06-01", "acceptance SH1",
         "The processor accepted 273.1 lb of shipment SH1; by its bales' tickets 260 lb were shipped, net of what was "
         "rejected; the tolerance is 5 %.",
         accepted("273")},
        {"what the processor rejected is not missing from what it accepted", "accepted-below-shipped",
         added(accepted("227"), "rejects.csv", "J1,2026-06-01,processor,,L2,20,lb,twine,\n"), "SH1", "2026-06-01",
         "acceptance SH1",
         "The processor accepted 227 lb of shipment SH1; by its bales' tickets 240 lb were shipped, net of what was "
         "rejected; the tolerance is 5 %.",
         added(accepted("228"), "rejects.csv", "J1,2026-06-01,processor,,L2,20,lb,twine,\n")},
        {"a cost dated the day after it was recorded; the day itself is in time", "dated-after-entry",
         quiet_but("costs.csv", "C1,2026-05-03", "C1,2027-05-15"), "C1", "2027-05-15", "cost C1",
         "The cost C1 is dated 2027-05-15 and was recorded on 2027-05-14, before it happened.",
         quiet_but("costs.csv", "C1,2026-05-03", "C1,2027-05-14")},
        {"two growers with one name, however it is written", "grower-twice",
         quiet_but("growers.csv", "Ib Orn", "ruth  AMES"), "G2", "2026-05-02", "grower G2, grower G1",
         "Growers G1 and G2 have one name; are they one grower?", quiet_but("growers.csv", "Ib Orn", "Ruth Amesen")},
        {"two growers with one telephone number", "grower-twice", with_phones("555 0100"), "G2", "2026-05-02",
         "grower G2, grower G1", "Growers G1 and G2 have one telephone number; are they one grower?",
         with_phones("555-0101")},
        {"one invoice recorded twice; another amount is another payment of it", "cost-twice", with_invoices("40.00"),
         "C2", "2026-05-09", "cost C2, cost C1",
         "Cost C2 says what cost C1 says: $40.00 to Fen Twine by document inv 7.", with_invoices("40.01")},
        {"a cost whose category has no line in the budget", "no-budget-line",
         quiet_but("costs.csv", "personnel", "supplies"), "C1", "2026-05-03", "cost C1",
         "Cost C1 is supplies, for which the budget has no line.", no_budget()},
        {"an indirect cost on the grant of an award without a percent; on match it is counted", "indirect-not-counted",
         without_percent("grant"), "C2", "2026-05-03", "cost C2",
         "Cost C2 of $50.00 is indirect and not direct, and the award has no indirect percent: it is in no figure. "
         "Give "
         "the award its percent, or the cost a direct category.",
         without_percent("match")},
        outside("covers.csv", "R2,2026-05-02", "R2,2027-01-01", "R2", "cover R2 1", "The cover R2", "R2,2026-12-31"),
        outside("receipts.csv", "RC5,2026-05-14", "RC5,2027-01-01", "RC5", "receipt RC5", "The receipt RC5",
                "RC5,2026-12-31"),
        outside("tickets.csv", "T2,2026-05-22", "T2,2027-01-01", "T2", "ticket T2", "The ticket T2", "T2,2026-12-31"),
        outside("costs.csv", "C1,2026-05-03", "C1,2027-01-01", "C1", "cost C1", "The cost C1", "C1,2026-01-01"),
        outside("inkind.csv", "I1,2026-05-04", "I1,2027-01-01", "I1", "inkind I1", "The inkind I1", "I1,2026-12-31"),
        outside("acceptances.csv", "SH1,2026-06-01", "SH1,2027-01-01", "SH1", "acceptance SH1", "The acceptance SH1",
                "SH1,2026-12-31"),
        outside("bales.csv", "L2,2026-05-21,S2,B3\nL2,2026-05-21", "L2,2027-01-01,S2,B3\nL2,2027-01-01", "L2",
                "bale L2 B3", "The bale L2", "L2,2026-12-31,S2,B3\nL2,2026-12-31"),
        outside("shipments.csv", "2026-05-25,Fen Polymer,L1\nSH1,2026-05-25",
                "2027-01-01,Fen Polymer,L1\nSH1,2027-01-01", "SH1", "shipment SH1 L1", "The shipment SH1",
                "2026-12-31,Fen Polymer,L1\nSH1,2026-12-31"),
        outside("hauls.csv", "B5\n", "B5\nH2,2027-01-01,S1,S2,B5\n", "H2", "haul H2 B5", "The haul H2",
                "B5\nH2,2026-12-31,S1,S2,B5\n"),
        outside("rejects.csv", "disposition\n", "disposition\nJ1,2027-01-01,processor,,L2,5,lb,twine,\n", "J1",
                "reject J1", "The reject J1", "disposition\nJ1,2026-12-31,processor,,L2,5,lb,twine,\n"),
    };
}

TEST_CASE("the flags of rejects, money and dates are raised on their rows and day, and not by a near miss") {
    check_flags(flag_cases_of_paper());
}
