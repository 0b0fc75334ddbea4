#include "flag_case.hpp"
#include "intake/keeping.hpp"
#include "ledger/keeping.hpp"

using namespace tarewell::tests;

namespace {

season_files costs(std::string_view rows) { return quiet_and("costs.csv", rows); }
season_files gifts(std::string_view rows) { return quiet_and("inkind.csv", rows); }

season_files with_sources(std::string_view rows) {
    auto files = quiet_season();
    files["costs.csv"] = "cost,date,category,description,amount,fund,source,document\n" + std::string{rows};
    return files;
}

season_files with_rates(std::string_view rates, std::string_view gift_rows) {
    auto files = gifts(gift_rows);
    files["rates.csv"] = "rate,kind,what,begins,value,source\n" + std::string{rates};
    return files;
}

season_files with_payment(const char* amount, const char* retained) {
    auto files = quiet_season();
    files["requests.csv"] = "request,date,cost,indirect\nRQ1,2026-06-01,C1,10.05\n";
    files["payments.csv"] =
        fmt::format("payment,date,kind,amount,request,retained\nPY1,2026-06-20,reimbursement,{},RQ1,{}\n"
                    "PY9,2026-06-21,retainage,10.01,,\n",
                    amount, retained);
    return files;
}

season_files with_request_on(const char* day) {
    auto files = quiet_season();
    files["requests.csv"] = fmt::format("request,date,cost\nRQ1,{},C1\n", day);
    return files;
}

season_files with_paid_request(const char* paid_on) {
    auto files = quiet_season();
    files["costs.csv"] = fmt::format("cost,date,category,description,amount,fund,paid_on,document\n"
                                     "C1,2026-05-03,personnel,sorting,100.50,grant,{},inv 1\n",
                                     paid_on);
    files["requests.csv"] = "request,date,cost\nRQ1,2026-06-01,C1\n";
    return files;
}

/// Cost C1 of 100.50, claimed, with credits beside it and payments.
season_files with_credits(std::string_view credits, std::string_view payments = {}) {
    auto files = with_paid_request("2026-05-04");
    files["costs.csv"] = "cost,date,category,description,amount,fund,paid_on,document,disallows\n"
                         "C1,2026-05-03,personnel,sorting,100.50,grant,2026-05-04,inv 1,\n" +
                         std::string{credits};
    files["payments.csv"] = "payment,date,kind,amount,request,retained\n" + std::string{payments};
    return files;
}

season_files with_advance(const char* amount) {
    auto files = with_paid_request("2026-05-06");
    files.erase("requests.csv");
    files["payments.csv"] =
        fmt::format("payment,date,kind,amount,request,retained\nPY1,2026-05-01,advance,{},,\n", amount);
    return files;
}

season_files with_income_on_claimed(const char* spent_on) {
    auto files = with_paid_request("2026-05-04");
    files["income.csv"] = fmt::format("income,date,kind,method,description,amount,cost\n"
                                      "IN1,2026-05-10,earned,deduction,bales,40,\n"
                                      "IN2,{},spent,deduction,sorting,40,C1\n",
                                      spent_on);
    return files;
}

season_files with_money(std::string_view payments) {
    auto files = quiet_season();
    files["payments.csv"] = "payment,date,kind,amount,request,retained\n" + std::string{payments};
    return files;
}

season_files with_liquidation_on(const char* day) {
    auto files = quiet_season();
    files["obligations.csv"] = "obligation,date,category,description,amount,fund\nOB1,2026-05-04,travel,van,50,grant\n";
    files["liquidations.csv"] = fmt::format("liquidation,date,obligation,amount\nLQ1,{},OB1,5\n", day);
    return files;
}

season_files with_income(const char* spent_on) {
    auto files = quiet_season();
    files["income.csv"] = fmt::format("income,date,kind,method,description,amount\nIN2,{},spent,addition,twine,40\n"
                                      "IN1,2026-06-10,earned,addition,bales,40\n",
                                      spent_on);
    return files;
}

} // namespace

std::vector<flag_case> tarewell::tests::flag_cases_of_money() {
    return {
        {"the cost with which personnel passes its line; up to the line it does not", "over-budget",
         costs("C2,2026-05-04,personnel,sorting,5799.51,grant,inv 2\n"), "C2", "2026-05-04", "cost C2",
         "With cost C2 the grant costs in personnel come to $5900.01; the budget has $5900.00.",
         costs("C2,2026-05-04,personnel,sorting,5799.50,grant,inv 2\n")},
        {"a cost without a document", "no-document", costs("C2,2026-05-04,travel,toll,2,grant,\n"), "C2", "2026-05-04",
         "cost C2", "Cost C2 of $2.00 names no document and has none attached.",
         costs("C2,2026-05-04,travel,toll,2,grant,slip\n")},
        {"hours without a signed sheet; miles need none", "hours-not-signed",
         gifts("I2,2026-05-05,hours,Ola,S1,1.5,20,\n"), "I2", "2026-05-05", "inkind I2",
         "In-kind I2: 1.5 hours of Ola without a signed sheet.", gifts("I2,2026-05-05,miles,Ola,S1,1.5,0.5,\n")},
        {"more hours of one person than a day has", "hours-in-day",
         gifts("I2,2026-05-04,hours,Ola,S2,22.25,20,sheet\n"), "I2", "2026-05-04", "inkind I1, inkind I2",
         "Ola gave 24.25 hours on 2026-05-04, and a day has 24; record each day, or each person, by itself.",
         gifts("I2,2026-05-04,hours,Ola,S2,22,20,sheet\n")},
        {"the same gift twice; on another day it is another", "match-twice",
         gifts("I2,2026-05-04,hours,Ola,S2,2.0,20,sheet\n"), "I2", "2026-05-04", "inkind I2, inkind I1",
         "In-kind I2 says what I1 says: 2 hours of Ola on 2026-05-04.",
         gifts("I2,2026-05-05,hours,Ola,S2,2.0,20,sheet\n")},
        {"a cost on match that is on the grant, too", "match-twice",
         costs("C2,2026-05-03,personnel,sorting,100.5,match,inv 1\n"), "C2", "2026-05-03", "cost C2, cost C1",
         "Cost C2 on match says what cost C1 on grant says: $100.50 for sorting.",
         costs("C2,2026-05-03,personnel,sorting,100.51,match,inv 1\n")},
        {"match from the source that pays the grant's costs", "match-source",
         with_sources(
             "C1,2026-05-03,travel,van,5,grant,state fund,a\nC2,2026-05-03,travel,toll,1,match,state fund,b\n"),
         "C2", "2026-05-03", "cost C2",
         "The match of cost C2 comes from 'state fund', which also pays costs on the grant; such money seldom counts "
         "as "
         "match.",
         with_sources("C1,2026-05-03,travel,van,5,grant,state fund,a\nC2,2026-05-03,travel,toll,1,match,town,b\n")},
        {"federal match; money that says it is non-federal is not", "match-source",
         with_sources("C2,2026-05-03,travel,toll,1,match,Federal pass-through,b\n"), "C2", "2026-05-03", "cost C2",
         "The match of cost C2 comes from 'Federal pass-through', which is federal; such money seldom counts as match.",
         with_sources("C2,2026-05-03,travel,toll,1,match,non-federal town money,b\n")},
        {"an hour above the highest rate of the table in force on its day", "rate-above-table",
         with_rates("RT1,hours,sorter,2026-01-01,20,pay scale\nRT2,hours,driver,2026-01-01,40,pay scale\n"
                    "RT3,hours,driver,2026-05-05,30,pay scale\n",
                    "I2,2026-05-05,hours,Pia,S1,1,30.01,sheet\n"),
         "I2", "2026-05-05", "inkind I2", "In-kind I2 counts hours at 30.01; the highest rate is 30 (RT3, pay scale).",
         with_rates("RT1,hours,sorter,2026-01-01,20,pay scale\nRT2,hours,driver,2026-01-01,40,pay scale\n"
                    "RT3,hours,driver,2026-05-06,30,pay scale\n",
                    "I2,2026-05-05,hours,Pia,S1,1,40,sheet\n")},
        // read in a secondary source: IRS notices: 72.5 cents in 2026.
        {"a mile above the national rate, where the table has none", "rate-above-table",
         gifts("I2,2026-05-05,miles,Ola,S1,10,0.726,log\n"), "I2", "2026-05-05", "inkind I2",
         "In-kind I2 counts miles at 0.726; the highest rate is 0.725 (standard mileage rate for business, IRS "
         "notices; "
         "your table (rates) has none).",
         gifts("I2,2026-05-05,miles,Ola,S1,10,0.725,log\n")},
        {"more paid and retained of a request than it claimed", "request-overpaid", with_payment("100.55", "10.01"),
         "PY1", "2026-06-20", "payment PY1", "Payment PY1 pays request RQ1 by $0.01 more than was claimed in it.",
         with_payment("100.55", "10.00")},
        {"more retainage let go than retained", "retainage-overpaid", with_payment("90", "10"), "PY9", "2026-06-21",
         "payment PY9", "Payment PY9 releases $0.01 more than the agency had withheld.", with_payment("90", "10.01")},
        {"a request before its cost was incurred; on the day it may be", "money-out-of-order",
         with_request_on("2026-05-02"), "RQ1", "2026-05-02", "request RQ1 C1, cost C1",
         "Request RQ1 of 2026-05-02 claims cost C1, incurred on 2026-05-03.", with_request_on("2026-05-03")},
        {"a cost claimed before it was paid; on the day it may be", "claimed-not-paid", with_paid_request("2026-06-02"),
         "RQ1", "2026-06-01", "request RQ1 C1, cost C1",
         "Request RQ1 of 2026-06-01 claims cost C1, which was paid on 2026-06-02.", with_paid_request("2026-06-01")},
        {"program income that pays a claimed cost; what it paid before is not claimed", "claimed-and-income",
         with_income_on_claimed("2026-06-02"), "IN2", "2026-06-02", "income IN2, request RQ1 C1, cost C1",
         "Program income IN2 pays $40.00 of cost C1, which request RQ1 had claimed whole.",
         with_income_on_claimed("2026-06-01")},
        {"program income as match", "income-as-match",
         changed(with_income("2026-06-10"), "income.csv", "spent,addition", "spent,match"), "IN2", "2026-06-10",
         "income IN2", "Program income IN2 of $40.00 is spent as match, which takes the agency's prior approval.",
         with_income("2026-06-10")},
        {"more paid than the budget grants", "paid-above-award", with_money("PY1,2026-05-04,advance,6000.01,,\n"),
         "PY1", "2026-05-04", "payment PY1",
         "With payment PY1 the agency has paid $6000.01; the budget grants $6000.00.",
         with_money("PY1,2026-05-04,advance,6000,,\n")},
        // read in SF-425's instructions, line 10c: more than three business days of cash on hand may need explaining.
        {"an advance that is not used in three business days; 100.50 and 10 % are", "excess-advance",
         with_advance("110.56"), "PY1", "2026-05-01", "payment PY1",
         "Of advance PY1, $0.01 is on hand on 2026-05-06, past three business days' need: $110.56 received by then, "
         "$110.55 paid (costs, indirect costs, less program income deducted).",
         with_advance("110.55")},
        {"a cost that the agency disallowed; another credit is none", "disallowed",
         with_credits("C2,2026-06-10,personnel,disallowed,-20,grant,,letter,C1\n"), "C2", "2026-06-10",
         "cost C2, cost C1", "Cost C2 takes back $20.00 of cost C1 of 2026-05-03, which the agency disallowed.",
         with_credits("C2,2026-06-10,personnel,refund of the payee,-20,grant,,letter,\n")},
        {"more is disallowed than was spent", "disallowed-above-cost",
         with_credits("C2,2026-06-10,personnel,disallowed,-100,grant,,letter,C1\n"
                      "C3,2026-06-11,personnel,disallowed,-0.51,grant,,letter 2,C1\n"),
         "C3", "2026-06-11", "cost C3, cost C1", "With cost C3, $100.51 of cost C1 is taken back, which was $100.50.",
         with_credits("C2,2026-06-10,personnel,disallowed,-100,grant,,letter,C1\n"
                      "C3,2026-06-11,personnel,disallowed,-0.50,grant,,letter 2,C1\n")},
        {"a disallowed cost that was claimed, with too little refunded; a refund of all is enough",
         "disallowed-not-returned",
         with_credits("C2,2026-06-10,personnel,disallowed,-20,grant,,letter,C1\n", "PY1,2026-06-10,advance,-19.99,,\n"),
         "C2", "2026-06-10", "cost C2, cost C1",
         "Request RQ1 claimed cost C1; of the $20.00 disallowed of it, $0.01 is neither taken off a request nor "
         "refunded "
         "(a payment below 0) since.",
         with_credits("C2,2026-06-10,personnel,disallowed,-20,grant,,letter,C1\n", "PY1,2026-06-10,advance,-20,,\n")},
        {"two disallowed one after the other; each has its own refund", "disallowed-not-returned",
         with_credits("C2,2026-06-10,personnel,disallowed,-20,grant,,letter,C1\n"
                      "C3,2026-07-10,personnel,disallowed,-30,grant,,letter 2,C1\n",
                      "PY1,2026-06-20,advance,-20,,\nPY2,2026-07-09,advance,-30,,\n"),
         "C3", "2026-07-10", "cost C3, cost C1",
         "Request RQ1 claimed cost C1; of the $30.00 disallowed of it, $30.00 is neither taken off a request nor "
         "refunded (a payment below 0) since.",
         with_credits("C2,2026-06-10,personnel,disallowed,-20,grant,,letter,C1\n"
                      "C3,2026-07-10,personnel,disallowed,-30,grant,,letter 2,C1\n",
                      "PY1,2026-06-20,advance,-20,,\nPY2,2026-07-10,advance,-30,,\n")},
        {"a refund before the cost was disallowed returns it not; a later request that claims the credit does",
         "disallowed-not-returned",
         with_credits("C2,2026-06-10,personnel,disallowed,-20,grant,,letter,C1\n", "PY1,2026-06-09,advance,-20,,\n"),
         "C2", "2026-06-10", "cost C2, cost C1",
         "Request RQ1 claimed cost C1; of the $20.00 disallowed of it, $20.00 is neither taken off a request nor "
         "refunded (a payment below 0) since.",
         added(with_credits("C2,2026-06-10,personnel,disallowed,-20,grant,,letter,C1\n"), "requests.csv",
               "RQ2,2026-06-12,C2\n")},
        {"a refund to the agency", "refunded", with_money("PY1,2026-05-04,advance,-5,,\n"), "PY1", "2026-05-04",
         "payment PY1", "Payment PY1 refunds $5.00 to the agency.", with_money("PY1,2026-05-04,advance,5,,\n")},
        {"a liquidation before its obligation; on the day it may be", "money-out-of-order",
         with_liquidation_on("2026-05-03"), "LQ1", "2026-05-03", "liquidation LQ1, obligation OB1",
         "Liquidation LQ1 of 2026-05-03 is dated before obligation OB1, 2026-05-04; until then the obligations open "
         "are too "
         "few.",
         with_liquidation_on("2026-05-04")},
        {"program income spent before it was earned; on the day it may be", "income-overspent",
         with_income("2026-06-09"), "IN2", "2026-06-09", "income IN2",
         "With IN2 the program income spent passes what was earned by $40.00.", with_income("2026-06-10")},
    };
}

TEST_CASE("flags of money") { check_flags(flag_cases_of_money()); }

TEST_CASE("a document attached to a cost serves as well as one named in it") {
    reckoned_season season{costs("C2,2026-05-04,travel,toll,2,grant,\n")};
    REQUIRE(flags_with_code(season, "no-document").size() == 1);
    const temporary_folder scans;
    tarewell::intake::attach(season.file(), "cost", "C2", scans.write("toll.txt", "toll 2.00"), season.around());
    season.read(season.head());
    CHECK(flags_with_code(season, "no-document").empty());
}
