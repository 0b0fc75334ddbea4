#include "quiet_season.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;

// Results that others published, taken through a ledger: growers, bales, tickets and costs give them again.

namespace {

/// A season of one bundle and one bale for each weight, each of another grower, all weighed on one day.
class published_season {
  public:
    published_season(std::string_view unit, std::string_view begins, std::string_view ends) {
        files_["award.csv"] = fmt::format("award,agency,program,region,begins,ends,goal_tons,quarter_starts,unit\n"
                                          "A,Agency,Program,KB,{},{},0,1,{}\n",
                                          begins, ends, unit);
        files_["sites.csv"] = "site,name\nS1,Yard\n";
        files_["growers.csv"] = "grower,name,region\n";
        files_["scales.csv"] = fmt::format("scale,class,capacity,division,unit\nP1,III L,80000,2,{}\n", unit);
        files_["covers.csv"] = "registration,date,grower,site,cover,length_ft,width_ft,layers\n";
        files_["bundles.csv"] = "bundle,registration,number,of\n";
        files_["receipts.csv"] = "receipt,date,site,bundle,outcome\n";
        files_["bales.csv"] = "bale,date,site,bundle\n";
        files_["tickets.csv"] = "ticket,date,scale,weighs,subject,net,unit,entry\n";
        files_["costs.csv"] = "cost,date,category,description,amount,fund\n";
        unit_ = unit;
    }
    void weigh(std::string_view day, std::int64_t net) {
        const auto n = ++count_;
        files_["growers.csv"] += fmt::format("G{0},Grower {0},KB\n", n);
        files_["covers.csv"] += fmt::format("R{0},{1},G{0},S1,1,96,30,1\n", n, day);
        files_["bundles.csv"] += fmt::format("B{0},R{0},1,1\n", n);
        files_["receipts.csv"] += fmt::format("RC{0},{1},S1,B{0},accepted\n", n, day);
        files_["bales.csv"] += fmt::format("L{0},{1},S1,B{0}\n", n, day);
        files_["tickets.csv"] += fmt::format("T{0},{1},P1,bale,L{0},{2},{3},printed\n", n, day, net, unit_);
    }
    void spend(std::string_view day, std::string_view amount) {
        files_["costs.csv"] += fmt::format("C{},{},contractual,collection,{},grant\n", ++count_, day, amount);
    }
    [[nodiscard]] reckoned_season season() const { return reckoned_season{files_}; }

  private:
    season_files files_;
    std::string unit_;
    int count_ = 0;
};

double real_of(const figures::report& report, const char* name) {
    return std::get<figures::real>(report.find(name)->value);
}

} // namespace

TEST_CASE("31 farmers, 55,574 lb and $9,850 are 27.787 tons at $354.48 a ton") {
    // read in SARE ONE09-112; the tons and the cost a ton computed.
    published_season published{"lb", "2009-01-01", "2010-12-31"};
    for (int farmer = 0; farmer < 30; ++farmer)
        published.weigh("2009-07-01", 1'792);
    published.weigh("2009-09-30", 55'574 - 30 * 1'792);
    published.spend("2009-08-01", "9850.00");
    const auto report = published.season().figures({2009, 3});
    CHECK(text_of(report, "growers_served") == "31");
    CHECK(text_of(report, "bale_net_weight") == "55574.000");
    CHECK(real_of(report, "diverted_tons") == 27.787);
    CHECK(fmt::format("{:.2f}", real_of(report, "cost_per_ton")) == "354.48");
    CHECK(real_of(report, "grant_cost_per_ton") == real_of(report, "cost_per_ton"));
}

TEST_CASE("725,980 lb and then 1,111,760 lb are 53.1 % more, and 555.88 tons") {
    // read in a state agriculture department, 2011 and 2012.
    published_season published{"lb", "2011-01-01", "2012-12-31"};
    for (int load = 0; load < 10; ++load)
        published.weigh("2011-11-01", 72'598);
    for (int load = 0; load < 20; ++load)
        published.weigh("2012-11-01", 55'588);
    const auto season = published.season();
    const auto first = season.figures({2011, 4}), second = season.figures({2012, 4});
    CHECK(text_of(first, "diverted_weight") == "725980.000");
    CHECK(text_of(second, "diverted_weight") == "1111760.000");
    CHECK(real_of(second, "diverted_tons") == 555.88);
    CHECK(real_of(second, "diverted_tons_to_date") == Approx(918.87).epsilon(1e-15)); // computed: 1,837,740 lb
    CHECK(fmt::format("{:+.1f}", (real_of(second, "diverted_tons") / real_of(first, "diverted_tons") - 1) * 100) ==
          "+53.1");
}

TEST_CASE("374 tons against 256 are 46.1 % more, whatever was published") {
    // One agency's 374 tons were called "+36 %" against its earlier 256 tons; computed: +46.1 %.
    published_season published{"lb", "2015-01-01", "2016-12-31"};
    for (int load = 0; load < 8; ++load)
        published.weigh("2015-11-01", 64'000);
    for (int load = 0; load < 11; ++load)
        published.weigh("2016-11-01", 68'000);
    const auto season = published.season();
    const double earlier = real_of(season.figures({2015, 4}), "diverted_tons"),
                 later = real_of(season.figures({2016, 4}), "diverted_tons");
    CHECK(earlier == 256.0);
    CHECK(later == 374.0);
    CHECK(fmt::format("{:+.1f}", (later / earlier - 1) * 100) == "+46.1");
}

TEST_CASE("4,209 tonnes in 28,000 bags are 150.3 kg a bag, here a thousandth of each") {
    // read in 4,209 t in about 28,000 bags; the kilograms a bag computed.
    published_season published{"kg", "2015-01-01", "2015-12-31"};
    for (int bag = 0; bag < 27; ++bag)
        published.weigh("2015-05-01", 150);
    published.weigh("2015-05-01", 4'209 - 27 * 150);
    const auto report = published.season().figures({2015, 2});
    CHECK(text_of(report, "baled_bundles") == "28");
    CHECK(text_of(report, "bale_net_weight") == "4209.000");
    CHECK(fmt::format("{:.1f}", 4209.0 / 28) == "150.3");
    // computed: 4,209 kg / 907.18474 kg (read in a secondary source; NIST Handbook 44 Appendix C from memory).
    CHECK(real_of(report, "diverted_tons") == Approx(4.639628).epsilon(1e-6));
}
