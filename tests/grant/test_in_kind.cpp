#include "figures/breakdowns.hpp"
#include "quiet_season.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;

namespace {

/// What an in-kind row is worth, by its kind, quantity, rate and amount.
std::string worth(const char* kind, const std::string& quantity_rate_amount) {
    auto files = quiet_season();
    files["inkind.csv"] = fmt::format("inkind,date,kind,giver,quantity,rate,amount\nI1,2026-05-04,{},Ola,{}\n", kind,
                                      quantity_rate_amount);
    const reckoned_season season{files};
    return quantity::text_of(season.season().gifts.at(0).value);
}

struct dated_rate {
    const char* when;
    const char* rate;
    const char* of_ten;
};

} // namespace

TEST_CASE("ten volunteer hours are worth ten times the national value of their year") {
    // read in the source and in a secondary source: Independent Sector releases, by data year, $/h. 2 CFR 200.306(e):
    // the pay for like work comes first.
    const dated_rate values[] = {{"2018", "25.43", "254.30"}, {"2019", "27.20", "272.00"}, {"2020", "28.54", "285.40"},
                                 {"2021", "29.95", "299.50"}, {"2022", "31.80", "318.00"}, {"2023", "33.49", "334.90"},
                                 {"2024", "34.79", "347.90"}, {"2025", "36.14", "361.40"}};
    for (const auto& [year, rate, of_ten] : values) {
        CAPTURE(year);
        CHECK(worth("hours", fmt::format("10,{},", rate)) == of_ten);
    }
}

TEST_CASE("miles at the business rates are worth their cents, tenths and all") {
    // read in a secondary source: IRS notices, $ a mile; the sums computed.
    const dated_rate rates[] = {{"2019", "0.58", "5.80"},      {"2020", "0.575", "5.75"},    {"2021", "0.56", "5.60"},
                                {"2022", "0.585", "5.85"},     {"2022-07", "0.625", "6.25"}, {"2023", "0.655", "6.55"},
                                {"2024", "0.67", "6.70"},      {"2025", "0.70", "7.00"},     {"2026", "0.725", "7.25"},
                                {"charitable", "0.14", "1.40"}};
    for (const auto& [year, rate, of_ten] : rates) {
        CAPTURE(year);
        CHECK(worth("miles", fmt::format("10,{},", rate)) == of_ten);
    }
}

TEST_CASE("an amount not given is quantity times rate, rounded half up to the cent once") {
    CHECK(worth("miles", "7,0.575,") == "4.03"); // computed: 4.025
    CHECK(worth("miles", "3,0.585,") == "1.76"); // computed: 1.755
    CHECK(worth("miles", "7,0.574,") == "4.02"); // computed: 4.018
    CHECK(worth("miles", "1,0.004999999,") == "0.00");
    CHECK(worth("hours", "2.75,31.80,") == "87.45");        // computed: 87.45
    CHECK(worth("hours", "0.333333333,36.14,") == "12.05"); // computed: 12.0466...
    CHECK(worth("hours", "0,36.14,") == "0.00");
}

TEST_CASE("an amount that is given stands") {
    CHECK(worth("donated_use", "1,400,350.00") == "350.00");
    CHECK(worth("donated_goods", "10,5,0") == "0.00");
}

TEST_CASE("an in-kind contribution stands by its object class, and one that has none apart") {
    auto files = quiet_season();
    files["inkind.csv"] = "inkind,date,kind,giver,quantity,rate,category\n"
                          "I1,2026-05-04,hours,Ola,2,20,personnel\nI2,2026-05-04,hours,Ola,1,7,\n"
                          "I3,2026-02-04,miles,Ola,10,1,travel\n";
    const reckoned_season season{files};
    const auto report = season.figures({2026, 2});
    const auto money = figures::money_by_category(season.season(), report.basis);
    const auto given = [](const figures::money_line& line) {
        return fmt::format("{} {} {}", line.category, quantity::text_of(line.match_in_quarter),
                           quantity::text_of(line.match_given));
    };
    REQUIRE(money.lines.size() >= 2);
    CHECK(given(money.lines[0]) == "personnel 40.00 40.00");
    CHECK(given(money.lines[1]) == "travel 0.00 10.00");
    CHECK(given(money.unclassed) == "without an object class 7.00 7.00");
    CHECK(quantity::text_of(money.total.match_given) == "50.00");
}

TEST_CASE("in-kind rows are in the quarter's match and to date, each at its own cent") {
    auto files = quiet_season();
    files["inkind.csv"] =
        "inkind,date,kind,giver,quantity,rate\nI1,2026-05-04,miles,Ola,7,0.575\nI2,2026-05-05,miles,Ola,7,0.575\n"
        "I3,2026-08-01,hours,Ola,10,36.14\n";
    const reckoned_season season{files};
    CHECK(text_of(season.figures({2026, 2}), "match_given") == "8.06"); // not 8.05: each row is rounded
    CHECK(text_of(season.figures({2026, 3}), "match_given") == "361.40");
    CHECK(text_of(season.figures({2026, 3}), "match_to_date") == "369.46");
}
