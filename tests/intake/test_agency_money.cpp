#include "ledger/load_season.hpp"
#include "records/season.hpp"
#include "refusal_case.hpp"

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;
using records::kind;

namespace {

const char* const obligations =
    "obligation,date,category,description,amount,fund\nOB1,2026-05-01,travel,van,100,grant\n";
const char* const requests = "request,date,cost,indirect,document\nRQ1,2026-06-01,C1,10,form 1\n";

void take_agency(base_season& season) {
    season.take_all();
    season.take(kind::cost, "cost,date,category,description,amount,fund\nC1,2026-05-03,personnel,sorting,100.50,grant\n"
                            "C2,2026-05-04,travel,van,40,grant\nC3,2026-05-04,travel,van,40,match\n");
    season.take(kind::obligation, obligations);
    season.take(kind::request, requests);
}

} // namespace

TEST_CASE("what the agency's money refuses, each at its line and column") {
    expect_refusals({
        {kind::rate, "rate,kind,begins,value,source\nRT1,hours,,20,pay scale\n", "rates.csv:2:begins", "empty"},
        {kind::rate, "rate,kind,begins,value,source\nRT1,days,2026-01-01,20,pay scale\n", "rates.csv:2:kind", "days"},
        {kind::obligation, "obligation,date,category,description,amount,fund\nOB1,2026-05-01,lunch,x,1,grant\n",
         "obligations.csv:2:category", "lunch"},
        {kind::obligation, "obligation,date,category,description,amount,fund\nOB1,2026-05-01,travel,x,1.005,grant\n",
         "obligations.csv:2:amount", "1.005"},
        {kind::obligation, "obligation,date,category,description,amount,fund\nOB1,2026-05-01,travel,x,-1,grant\n",
         "obligations.csv:2:amount", "-1"},
        {kind::liquidation, "liquidation,date,obligation,amount\nLQ1,2026-05-01,OB9,1\n",
         "liquidations.csv:2:obligation", "OB9"},
        {kind::income, "income,date,kind,method,description,amount,cost\nIN1,2026-05-01,earned,addition,x,1,C1\n",
         "income.csv:2:cost", "earned"},
        {kind::income, "income,date,kind,method,description,amount,cost\nIN1,2026-05-01,spent,addition,x,1,C9\n",
         "income.csv:2:cost", "C9"},
        {kind::request, "request,date,cost\nRQ1,2026-05-01,C9\n", "requests.csv:2:cost", "C9"},
        {kind::payment, "payment,date,kind,amount\nPY1,2026-05-01,reimbursement,5\n", "payments.csv:2:request",
         "empty"},
        {kind::payment, "payment,date,kind,amount,request\nPY1,2026-05-01,reimbursement,5,RQ9\n",
         "payments.csv:2:request", "RQ9"},
        {kind::payment, "payment,date,kind,amount,retained\nPY1,2026-05-01,advance,5,1\n", "payments.csv:2:retained",
         "advance"},
        {kind::payment, "payment,date,kind,amount,request\nPY1,2026-05-01,advance,5,RQ9\n", "payments.csv:2:request",
         "RQ9"},
        {kind::rate, "rate,kind,what,begins,value,source\nRT1,hours,x,2026-01-01,20,a\nRT2,hours,x,2026-01-01,21,b\n",
         "rates.csv:3:begins", "RT1"},
        {kind::note, "quarter,part,text\n2026-07,done,x\n", "narrative.csv:2:quarter", "2026-07"},
        {kind::setting, "setting,value\nreport_due_days,30.5\n", "settings.csv:2:value", "30.5"},
        {kind::setting, "setting,value\nreport_due_dates,04-31; 07-31\n", "settings.csv:2:value", "04-31"},
        {kind::setting, "setting,value\ntipping_fee_per_ton,60.005\n", "settings.csv:2:value", "60.005"},
    });
}

TEST_CASE("a cost is claimed once, and only on the grant") {
    base_season season;
    take_agency(season);
    CHECK_THAT(season.refusals(kind::request, "request,date,cost\nRQ2,2026-07-01,C1\n").at(0),
               Contains("requests.csv:2:cost: cost 'C1' is claimed in request 'RQ1' already"));
    CHECK_THAT(season.refusals(kind::request, "request,date,cost\nRQ2,2026-07-01,C3\n").at(0),
               Contains("requests.csv:2:cost: cost 'C3' is on match"));
    // Twice in one file, in two requests.
    CHECK_THAT(season.refusals(kind::request, "request,date,cost\nRQ2,2026-07-01,C2\nRQ3,2026-07-01,C2\n").at(0),
               Contains("requests.csv:3:cost"));
}

TEST_CASE("an advance pays no request, and a cost on match no obligation on the grant") {
    base_season season;
    take_agency(season);
    CHECK_THAT(season.refusals(kind::payment, "payment,date,kind,amount,request\nPY1,2026-07-01,advance,5,RQ1\n").at(0),
               Contains("payments.csv:2:request: is given although the payment is of kind advance"));
    CHECK_THAT(
        season.refusals(kind::liquidation, "liquidation,date,obligation,amount,cost\nLQ1,2026-05-04,OB1,4,C3\n").at(0),
        Contains("liquidations.csv:2:cost: cost 'C3' and obligation 'OB1' are not on the same fund"));
}

TEST_CASE("rows of one request agree in date, indirect costs and document") {
    base_season season;
    take_agency(season);
    const auto refused = [&](const char* row) {
        return season.refusals(kind::request, std::string{"request,date,cost,indirect,document\n"} + row);
    };
    CHECK_THAT(refused("RQ1,2026-06-02,C2,10,form 1\n").at(0), Contains("requests.csv:2:date"));
    CHECK_THAT(refused("RQ1,2026-06-01,C2,11,form 1\n").at(0), Contains("requests.csv:2:indirect"));
    CHECK_THAT(refused("RQ1,2026-06-01,C2,10,form 2\n").at(0), Contains("requests.csv:2:document"));
    CHECK(refused("RQ1,2026-06-01,C2,10.00,form 1\n").empty());
}

TEST_CASE("an obligation is paid or let go up to its amount, over all files and after corrections") {
    base_season season;
    take_agency(season);
    season.take(kind::liquidation, "liquidation,date,obligation,amount,cost\nLQ1,2026-05-04,OB1,40,C2\n");
    const auto more = "liquidation,date,obligation,amount\nLQ2,2026-05-05,OB1,60\nLQ3,2026-05-05,OB1,0.01\n";
    CHECK_THAT(season.refusals(kind::liquidation, more).at(0),
               Contains("liquidations.csv:3:amount: 0.01 is more than the 0.00 that obligation 'OB1' has left"));
    // The obligation can't be corrected below what was paid of it, and not voided under it.
    const auto shrink = [&](const char* amount) {
        return season.refusals_of([&] {
            intake::correct(season.ledger(), kind::obligation, {"OB1"}, {{"amount", amount}}, "less", season.around());
        });
    };
    CHECK_FALSE(shrink("39.99").empty());
    CHECK(shrink("40").empty());
    CHECK_FALSE(season
                    .refusals_of([&] {
                        intake::void_record(season.ledger(), kind::obligation, {"OB1"}, "gone", season.around());
                    })
                    .empty());
}

TEST_CASE("a cost that was claimed is not voided, and not moved to match") {
    base_season season;
    take_agency(season);
    CHECK_FALSE(
        season.refusals_of([&] { intake::void_record(season.ledger(), kind::cost, {"C1"}, "gone", season.around()); })
            .empty());
    CHECK_FALSE(
        season
            .refusals_of([&] {
                intake::correct(season.ledger(), kind::cost, {"C1"}, {{"fund", "match"}}, "match", season.around());
            })
            .empty());
    CHECK(intake::broken_rules(season.ledger()).empty());
}

TEST_CASE("a disallowed cost is taken back by a credit of its class and fund, and is not voided under it") {
    base_season season;
    season.take_all();
    const std::string header = "cost,date,category,description,amount,fund,disallows\n";
    const auto refused = [&](const std::string& row) { return season.refusals(kind::cost, header + row); };
    CHECK_THAT(refused("C2,2026-06-10,personnel,letter,20,grant,C1\n").at(0),
               StartsWith("costs.csv:2:amount: ") && Contains("taken back by a credit, such as -120.00"));
    CHECK_THAT(refused("C2,2026-06-10,travel,letter,-20,grant,C1\n").at(0), StartsWith("costs.csv:2:category: "));
    CHECK_THAT(refused("C2,2026-06-10,personnel,letter,-20,match,C1\n").at(0), StartsWith("costs.csv:2:fund: "));
    CHECK_THAT(refused("C2,2026-06-10,personnel,letter,-20,grant,C9\n").at(0), StartsWith("costs.csv:2:disallows: "));
    CHECK_THAT(refused("C2,2026-06-10,personnel,letter,-20,grant,C2\n").at(0), StartsWith("costs.csv:2:disallows: "));
    season.take(kind::cost, header + "C2,2026-06-10,personnel,letter,-20,grant,C1\n");
    CHECK_FALSE(
        season.refusals_of([&] { intake::void_record(season.ledger(), kind::cost, {"C1"}, "gone", season.around()); })
            .empty());
    CHECK_FALSE(season
                    .refusals_of([&] {
                        intake::correct(season.ledger(), kind::cost, {"C1"}, {{"category", "travel"}}, "misread",
                                        season.around());
                    })
                    .empty());
    CHECK_FALSE(
        season
            .refusals_of([&] {
                intake::correct(season.ledger(), kind::cost, {"C2"}, {{"disallows", "C2"}}, "misread", season.around());
            })
            .empty());
    CHECK(intake::broken_rules(season.ledger()).empty());
}

TEST_CASE("the agency's files are taken in with a season's folder, twice without a change") {
    base_season season;
    season.folder().write("obligations.csv", obligations);
    season.folder().write("requests.csv", requests);
    season.folder().write("payments.csv",
                          "payment,date,kind,amount,request\nPY1,2026-07-01,reimbursement,110.50,RQ1\n");
    season.folder().write("narrative.csv", "quarter,part,text\n2026-Q2,done,\"Two\nlines\"\n");
    season.take_all();
    const auto head = season.head();
    const auto loaded = ledger::load_season(season.ledger(), head);
    CHECK(loaded.obligations.size() == 1);
    CHECK(loaded.requests.size() == 1);
    CHECK(loaded.payments.at(0).amount == quantity::money{110'50});
    CHECK(loaded.notes.at(0).text == "Two\nlines");
    season.take_all();
    CHECK(season.head() == head);
}
