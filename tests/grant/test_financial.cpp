#include "grant/financial.hpp"
#include "quiet_season.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;

namespace {

/// Grant 10,000 and match 2,000 budgeted; 20 % of the total; 10 % indirect on what is not equipment.
season_files agency_season() {
    auto files = quiet_season();
    files["budget.csv"] = "category,grant,match\npersonnel,6000,2000\nequipment,3000,0\nindirect,1000,0\n";
    files["costs.csv"] = "cost,date,category,description,amount,fund,paid_on,document\n"
                         "C1,2026-02-01,personnel,sorting,1000,grant,2026-02-20,a\n"
                         "C2,2026-03-10,equipment,scale,500,grant,2026-04-02,b\n"
                         "C3,2026-05-01,personnel,sorting,200,grant,,c\n"
                         "C4,2026-05-02,personnel,crew,70,match,2026-05-02,d\n";
    files["inkind.csv"] = "inkind,date,kind,giver,quantity,rate,document\nI1,2026-05-04,hours,Ola,2,20,sheet\n";
    files["obligations.csv"] =
        "obligation,date,category,description,amount,fund\n"
        "OB1,2026-02-01,contractual,hauling,900,grant\nOB2,2026-02-01,contractual,crew,50,match\n"
        "OB3,2026-07-01,contractual,later,11,grant\n";
    files["liquidations.csv"] =
        "liquidation,date,obligation,amount,cost\nLQ1,2026-05-01,OB1,200,C3\nLQ2,2026-07-02,OB1,5,\n";
    files["income.csv"] = "income,date,kind,method,description,amount,cost\n"
                          "IN1,2026-03-01,earned,deduction,bales,90,\nIN2,2026-04-01,earned,addition,bales,60,\n"
                          "IN3,2026-04-02,spent,deduction,sorting,25,C1\nIN4,2026-04-03,spent,addition,twine,10,\n"
                          "IN5,2026-07-03,earned,addition,bales,1,\n";
    files["requests.csv"] =
        "request,date,cost,indirect\nRQ1,2026-04-10,C1,100\nRQ1,2026-04-10,C2,100\nRQ2,2026-06-30,C3,\n";
    files["payments.csv"] = "payment,date,kind,amount,request,retained\nPY1,2026-01-15,advance,300,,\n"
                            "PY2,2026-05-20,reimbursement,1440,RQ1,160\nPY3,2026-06-30,retainage,60,,\n"
                            "PY4,2026-07-04,reimbursement,200,RQ2,\n";
    return files;
}

std::string line(const figures::report& report, char letter) {
    return text_of(report, std::string{"line_10"} + letter);
}

} // namespace

TEST_CASE("the lines of SF-425 through the second quarter, worked by hand") {
    // c = a - b, g = e + f, h = d - g, k = i - j, o = l - (m or n): read on the face of SF-425, OMB 4040-0014
    // ("Remaining recipient share to be provided (line i minus j)"). b: read in the Treasury's help for the form, line
    // 10b: "actual cash disbursements (of Federally authorized funds) for direct charges for goods and services, the
    // amount of indirect expenses charged to the award". m: read in 2 CFR 1128.720(b): deduction "subtracts program
    // income from total allowable costs to determine net allowable costs for purposes of determining the Federal share
    // of funding and any required cost sharing". The amounts computed.
    const reckoned_season season{agency_season()};
    const auto report = season.figures({2026, 2});
    CHECK(line(report, 'a') == "1800.00"); // 300 + 1,440 + 60
    CHECK(line(report, 'b') == "1595.00"); // paid 1,000 + 500; indirect 10 % of 1,200; less 25 of income
    CHECK(line(report, 'c') == "205.00");
    CHECK(text_of(report, "paid_ahead") == "0.00");
    CHECK(text_of(report, "match_required") == "448.75"); // 1,795 x 20/80
    CHECK(text_of(report, "grant_left") == "8205.00");    // 10,000 - 1,820 + 25
    CHECK(line(report, 'd') == "10000.00");
    CHECK(line(report, 'e') == "1795.00"); // 1,700 + 120 - 25
    CHECK(line(report, 'f') == "700.00");  // 900 - 200; OB2 is on match, OB3 later
    CHECK(line(report, 'g') == "2495.00");
    CHECK(line(report, 'h') == "7505.00");
    CHECK(line(report, 'i') == "2500.00"); // 10,000 x 20/80
    CHECK(line(report, 'j') == "110.00");  // 70 + 2 x 20
    CHECK(line(report, 'k') == "2390.00");
    CHECK(line(report, 'l') == "150.00");
    CHECK(line(report, 'm') == "25.00");
    CHECK(line(report, 'n') == "10.00");
    CHECK(line(report, 'o') == "115.00");
    CHECK(text_of(report, "payments_received") == "1500.00"); // PY2 and PY3
    CHECK(text_of(report, "claimed_unpaid") == "175.00");     // 1,600 - 25 of income + 200 - 1,440 - 160
    CHECK(text_of(report, "retained_to_date") == "100.00");   // 160 - 60
}

TEST_CASE("the lines are cumulative, and count what is dated by the last day alone") {
    const reckoned_season season{agency_season()};
    const auto before = season.figures({2026, 1}), after = season.figures({2026, 3});
    CHECK(line(before, 'a') == "300.00");
    CHECK(line(before, 'b') == "300.00"); // the scale is not paid yet; of 1,100 the agency's money paid what it was
    CHECK(line(before, 'c') == "0.00");
    CHECK(text_of(before, "paid_ahead") == "800.00");
    CHECK(line(before, 'f') == "900.00");
    CHECK(line(before, 'o') == "90.00");
    CHECK(text_of(before, "claimed_unpaid") == "0.00");
    CHECK(line(after, 'a') == "2000.00");
    CHECK(line(after, 'f') == "706.00"); // 900 - 205 + 11
    CHECK(line(after, 'l') == "151.00");
    CHECK(text_of(after, "claimed_unpaid") == "-25.00");
}

TEST_CASE("without a match percent the recipient's share is what the budget says") {
    const reckoned_season season{changed(agency_season(), "award.csv", "20,total", ",")};
    CHECK(line(season.figures({2026, 2}), 'i') == "2000.00");
}

TEST_CASE("a ledger without the agency's money has lines of 0, and every line its rows") {
    const reckoned_season quiet{quiet_season()};
    const auto none = quiet.figures({2026, 2});
    for (const char letter : std::string{"abcflmno"})
        CHECK(line(none, letter) == "0.00");
    const reckoned_season season{agency_season()};
    const auto report = season.figures({2026, 2});
    // What each row adds sums to the line, but for what a percent decides.
    for (const char letter : std::string{"adfjlmno"}) {
        std::int64_t sum = 0;
        for (const auto& row : season.evidence(report, std::string{"line_10"} + letter))
            sum += row.adds.value_or(0);
        CAPTURE(letter);
        CHECK(quantity::text_of(quantity::money{sum}) == line(report, letter));
    }
}

TEST_CASE("an obligation is open until its cost is incurred, whenever that is paid") {
    // read in a federal agency's guidance on line 10f: on the accrual basis, "dollars incurred but not yet recorded".
    const auto open = [](const char* date, const char* cost) {
        auto files = agency_season();
        files["liquidations.csv"] =
            fmt::format("liquidation,date,obligation,amount,cost\nLQ1,{},OB1,200,{}\n", date, cost);
        const reckoned_season season{files};
        return line(season.figures({2026, 1}), 'f') + " " + line(season.figures({2026, 2}), 'f');
    };
    CHECK(open("2026-05-01", "C3") == "900.00 700.00");
    CHECK(open("2026-07-15", "C3") == "900.00 700.00"); // incurred on 2026-05-01, paid in July
    CHECK(open("2026-05-01", "C1") == "700.00 700.00"); // incurred on 2026-02-01
    CHECK(open("2026-05-01", "") == "900.00 700.00");   // deobligated
}

TEST_CASE("program income spent as match is match, and counts once") {
    // read in 2 CFR 1128.720(b): "a recipient counts program income toward its required cost sharing or matching".
    const auto files = added(agency_season(), "income.csv",
                             "IN6,2026-05-03,spent,match,sorting,30,\nIN7,2026-05-04,spent,match,crew,20,C4\n");
    const reckoned_season season{files};
    const auto report = season.figures({2026, 2});
    CHECK(text_of(report, "match_given") == "140.00"); // 110 + 30; the 20 stand in cost C4 already
    CHECK(line(report, 'j') == "140.00");
    CHECK(line(report, 'o') == "85.00");
    CHECK_THROWS_AS((reckoned_season{added(agency_season(), "income.csv", "IN6,2026-05-03,spent,match,x,30,C1\n")}),
                    records::refused);
}

TEST_CASE("what program income paid of a cost is not claimed again") {
    const auto files = added(agency_season(), "income.csv", "IN6,2026-06-01,spent,addition,sorting,50,C3\n");
    const auto states = grant::requests_through(reckoned_season{files}.season(), quantity::day_of("2026-06-30"));
    CHECK(quantity::text_of(states[0].direct) == "1475.00"); // IN3 paid 25 of C1 before RQ1
    CHECK(quantity::text_of(states[1].direct) == "150.00");
}

TEST_CASE("money refunded to the agency is a payment below 0") {
    const auto files = added(agency_season(), "payments.csv", "PY5,2026-06-30,advance,-100,,\n");
    const auto report = reckoned_season{files}.figures({2026, 2});
    CHECK(line(report, 'a') == "1700.00");
    CHECK(text_of(report, "payments_received") == "1400.00");
}

TEST_CASE("each request says what was claimed, paid, retained and is open") {
    const reckoned_season season{agency_season()};
    const auto states = grant::requests_through(season.season(), quantity::day_of("2026-06-30"));
    REQUIRE(states.size() == 2);
    CHECK(states[0].request == "RQ1");
    CHECK(states[0].costs.size() == 2);
    CHECK(quantity::text_of(states[0].claimed()) == "1575.00"); // 1,500 + 100, less 25 that income paid of C1
    CHECK(quantity::text_of(states[0].open()) == "-25.00");
    CHECK(quantity::text_of(states[1].open()) == "200.00");
    CHECK(grant::requests_through(season.season(), quantity::day_of("2026-06-29")).size() == 1);
}

namespace {

/// A budget of 12,000, and amendments of it.
class amended_budget {
  public:
    amended_budget() : season_{agency_season()} {}
    void amend(const char* id, const char* date) {
        intake::record(season_.file(), records::kind::amendment,
                       {{"amendment", id}, {"date", date}, {"description", "approved"}}, season_.around());
    }
    void line(const char* amendment, const char* category, const char* grant, const char* match) {
        intake::record(season_.file(), records::kind::rebudget,
                       {{"amendment", amendment}, {"category", category}, {"grant", grant}, {"match", match}},
                       season_.around());
    }
    void mend(const char* amendment, const char* category, const char* grant) {
        intake::correct(season_.file(), records::kind::rebudget, {amendment, category}, {{"grant", grant}}, "a cent",
                        season_.around());
    }
    grant::budget_moves on(const char* day) {
        season_.read(season_.head());
        return grant::budget_moves_through(season_.season(), quantity::day_of(day));
    }

  private:
    reckoned_season season_;
};

} // namespace

TEST_CASE("moves between budget lines are held against the whole as last approved") {
    // read in 2 CFR 200.308: the cumulative amount of transfers among direct cost categories exceeds 10 percent "of the
    // total budget as last approved", cost share included.
    amended_budget of;
    of.amend("A1", "2026-05-01");
    of.line("A1", "personnel", "7200", "2000");
    of.line("A1", "equipment", "1800", "0");
    CHECK(of.on("2026-04-30").moved.count() == 0);
    CHECK(quantity::text_of(of.on("2026-05-01").moved) == "1200.00");
    CHECK(quantity::text_of(of.on("2026-05-01").total) == "12000.00");
    CHECK_FALSE(of.on("2026-05-01").past_limit); // 10 % exactly
    of.mend("A1", "equipment", "1799.99");
    of.mend("A1", "personnel", "7200.01");
    CHECK(of.on("2026-05-01").past_limit);
}

TEST_CASE("moves add up over amendments, and a supplement is no move") {
    amended_budget of;
    of.amend("A1", "2026-05-01"); // 500 from equipment to personnel
    of.line("A1", "personnel", "6500", "2000");
    of.line("A1", "equipment", "2500", "0");
    of.amend("A2", "2026-06-01"); // back again: two moves
    of.line("A2", "personnel", "6000", "2000");
    of.line("A2", "equipment", "3000", "0");
    of.amend("A3", "2026-07-01"); // 8,000 more
    of.line("A3", "personnel", "14000", "2000");
    of.amend("A4", "2026-08-01"); // 300 from equipment to travel, and 700 more
    of.line("A4", "equipment", "2700", "0");
    of.line("A4", "travel", "1000", "0");
    CHECK(quantity::text_of(of.on("2026-05-31").moved) == "500.00");
    CHECK(quantity::text_of(of.on("2026-06-30").moved) == "1000.00");
    CHECK(quantity::text_of(of.on("2026-07-31").moved) == "1000.00");
    CHECK(quantity::text_of(of.on("2026-07-31").total) == "20000.00");
    CHECK(quantity::text_of(of.on("2026-08-31").moved) == "1300.00");
    CHECK(quantity::text_of(of.on("2026-08-31").total) == "20700.00");
}

TEST_CASE("what is spent beyond a line is a move, as far as other lines leave it") {
    const auto moved = [](const char* costs) {
        const reckoned_season season{added(agency_season(), "costs.csv", costs)};
        return quantity::text_of(grant::budget_moves_through(season.season(), quantity::day_of("2026-12-31")).moved);
    };
    CHECK(moved("") == "0.00");
    CHECK(moved("C5,2026-08-01,equipment,baler,2900,grant,,e\n") == "400.00"); // 500 + 2,900 of 3,000
    CHECK(moved("C5,2026-08-01,travel,van,150,grant,,e\n") == "150.00");       // no line at all
}

TEST_CASE("what a landfill would have cost, only where its fee is given") {
    auto files = quiet_season();
    const reckoned_season without{files};
    const auto none = without.figures({2026, 2});
    CHECK(text_of(none, "tipping_avoided").empty());
    CHECK_FALSE(none.find("tipping_avoided")->reason.empty());
    files["settings.csv"] += "tipping_fee_per_ton,,65.50\n";
    // computed: 260 lb are .13 tons; x 65.50 = 8.515, half up.
    CHECK(text_of(reckoned_season{files}.figures({2026, 2}), "tipping_avoided") == "8.52");
}

TEST_CASE("the projection is what is diverted and what is on hand at the weight over estimate of all bales") {
    // computed: 260 lb of 259.2 lb claimed; B6 on hand at 86.4 lb: 260 + 86.4 x 260/259.2 lb in tons.
    const auto files =
        added(with_registration(quiet_season(), "B6,R3,1,1,,\n"), "receipts.csv", "RC6,2026-05-16,S1,B6,accepted,,\n");
    const auto report = reckoned_season{files}.figures({2026, 2});
    const auto tons = std::get<figures::real>(report.find("projected_tons")->value);
    CHECK(tons == Approx((260 + 86.4 * 260 / 259.2) / 2000).epsilon(1e-14));
    // L2 stays unshipped: where shipping counts, its 110 lb are projected, too.
    auto shipped = changed(files, "award.csv", "20,total,10,\n", "20,total,10,shipped\n");
    shipped = changed(shipped, "shipments.csv", "SH1,2026-05-25,Fen Polymer,L2\n", "");
    const auto by_shipping = reckoned_season{shipped}.figures({2026, 2});
    CHECK(std::get<figures::real>(by_shipping.find("diverted_tons_to_date")->value) == Approx(.075));
    CHECK(std::get<figures::real>(by_shipping.find("projected_tons")->value) == Approx(tons).epsilon(1e-14));
    auto unweighed = quiet_season();
    unweighed["tickets.csv"] = "ticket,date,scale,weighs,subject,gross,tare,net,unit,entry,as_printed\n";
    const auto nothing = reckoned_season{unweighed}.figures({2026, 2});
    CHECK(text_of(nothing, "projected_tons").empty());
    CHECK(nothing.find("projected_tons")->reason == "no estimate stands behind the bales weighed to date");
}

TEST_CASE("the projection looks at no record after the last day, and takes each residue off once") {
    const auto projected = [](const char* counted_when, std::string_view reject, std::string_view accepted) {
        auto files = changed(added(quiet_season(), "rejects.csv", reject), "award.csv", ",10,\n",
                             fmt::format(",10,{}\n", counted_when));
        files["acceptances.csv"] = "shipment,date,weight,unit\n" + std::string{accepted};
        const auto report = reckoned_season{files}.figures({2026, 2});
        return std::get<figures::real>(report.find("projected_tons")->value) * 2000;
    };
    const auto in_june = "J1,2026-06-10,processor,,L2,12,lb,twine,\n",
               in_july = "J1,2026-07-10,processor,,L2,12,lb,twine,\n";
    for (const auto* counted_when : {"weighed", "shipped"}) {
        CHECK(projected(counted_when, in_june, "") == Approx(248));
        CHECK(projected(counted_when, in_july, "") == Approx(260));
    }
    CHECK(projected("accepted", in_june, "") == Approx(248)); // both bales wait, less what was rejected by then
    CHECK(projected("accepted", in_july, "") == Approx(260));
    CHECK(projected("accepted", in_june, "SH1,2026-06-15,246,lb\n") == Approx(246));
    CHECK(projected("accepted", in_june, "SH1,2026-06-05,255,lb\n") == Approx(243));
    CHECK(projected("accepted", in_june, "SH1,2026-07-15,246,lb\n") == Approx(248));
}
