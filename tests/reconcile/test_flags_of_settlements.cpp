#include "flag_case.hpp"

using namespace tarewell::tests;

namespace {

/// SH1 was shipped at 260 lb.
season_files accepted(std::string_view more_columns, std::string_view row) {
    auto files = quiet_season();
    files["acceptances.csv"] = fmt::format("shipment,date,weight,unit,{}\nSH1,2026-06-01,{}\n", more_columns, row);
    return files;
}

season_files earned(std::string_view rows, season_files files) {
    files["income.csv"] = "income,date,kind,method,description,party,amount,document,shipment\n" + std::string{rows};
    return files;
}

season_files charged(std::string_view rows, season_files files) {
    files["costs.csv"] = "cost,date,category,description,payee,amount,fund,document,shipment\n" + std::string{rows};
    return files;
}

season_files at_a_price() { return accepted("price,per", "255,lb,0.0437,lb"); }

} // namespace

std::vector<flag_case> tarewell::tests::flag_cases_of_settlements() {
    // The tolerance is 5 % of 260 lb: 13 lb (computed). 255 lb x $0.0437 is $11.1435, so $11.14; 0.1275 tons x $30 is
    // $3.825, so $3.83 (computed).
    return {
        {"received 13 lb less is within the tolerance, and 13.001 is not", "received-off-shipped",
         accepted("received", "246.999,lb,246.999"), "SH1", "2026-06-01", "acceptance SH1",
         "The processor's scale says 246.999 lb of shipment SH1, and its bales' tickets 260 lb; the tolerance is "
         "5 %.",
         accepted("received", "247,lb,247")},
        {"a price of which no income was made", "not-settled", at_a_price(), "SH1", "2026-06-01", "acceptance SH1",
         "Shipment SH1: $0.0437 per lb x 255 lb is $11.14, and no income is recorded for it.",
         earned("IN1,2026-06-02,earned,addition,film,Fen Polymer,11.14,chk 4,SH1\n", at_a_price())},
        {"income a cent off its price", "settlement-off",
         earned("IN1,2026-06-02,earned,addition,film,Fen Polymer,11.15,chk 4,SH1\n", at_a_price()), "SH1", "2026-06-01",
         "acceptance SH1, income IN1",
         "Shipment SH1: $0.0437 per lb x 255 lb is $11.14, and $11.15 is recorded as income of it.",
         earned("IN1,2026-06-02,earned,addition,film,Fen Polymer,11,chk 4,SH1\n"
                "IN2,2026-06-03,earned,addition,film,Fen Polymer,0.14,chk 5,SH1\n",
                at_a_price())},
        {"a charge by the ton, and the haulier's invoice beside it", "settlement-off",
         charged("C1,2026-06-02,contractual,film,fen polymer,3.82,grant,inv 1,SH1\n"
                 "C2,2026-06-02,contractual,freight,Low Road,90,grant,inv 2,SH1\n",
                 accepted("charge,per", "255,lb,30,ton")),
         "SH1", "2026-06-01", "acceptance SH1, cost C1, cost C2",
         "Shipment SH1: $30 per ton x 255 lb is $3.83, and $3.82 is recorded as its processor's charge.",
         charged("C1,2026-06-02,contractual,film,fen polymer,3.83,grant,inv 1,SH1\n"
                 "C2,2026-06-02,contractual,freight,Low Road,90,grant,inv 2,SH1\n",
                 accepted("charge,per", "255,lb,30,ton"))},
        {"one check recorded twice", "income-twice",
         earned("IN1,2026-06-02,earned,addition,film,Fen Polymer,11.14,chk 4,SH1\n"
                "IN2,2026-06-03,earned,addition,film,fen polymer,11.14,Chk 4,\n",
                at_a_price()),
         "IN2", "2026-06-03", "income IN2, income IN1",
         "Income IN2 says what IN1 says: $11.14 of fen polymer, document Chk 4.",
         earned("IN1,2026-06-02,earned,addition,film,Fen Polymer,11.14,chk 4,SH1\n"
                "IN2,2026-06-03,earned,addition,film,Fen Polymer,11.14,chk 5,\n",
                at_a_price())},
    };
}

TEST_CASE("a settlement's flags are raised on their rows and day, and not by a near miss", "[settle]") {
    check_flags(flag_cases_of_settlements());
}
