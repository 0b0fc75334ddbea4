#include "account_season.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using quantity::money;

namespace {

std::string required(const char* percent, ledger::match_base base, std::int64_t on_grant_cents) {
    ledger::award award;
    if (*percent != '\0') award.match_percent = quantity::decimal_of(percent);
    award.base = base;
    return quantity::text_of(grant::match_required(award, money{on_grant_cents}));
}

constexpr auto of_total = ledger::match_base::total;
constexpr auto of_grant = ledger::match_base::grant;

} // namespace

TEST_CASE("a 20 % match on $10,000 is $2,500 of the total and $2,000 of the grant") {
    // read in a city's and a state's guidance.
    CHECK(required("20", of_total, 10'000'00) == "2500.00");
    CHECK(required("20", of_grant, 10'000'00) == "2000.00");
}

TEST_CASE("the match of a total is within half a cent of that percent of grant and match together") {
    for (const int percent : {5, 12, 25, 33, 50, 75}) {
        CAPTURE(percent);
        const auto match = quantity::decimal_of(required(std::to_string(percent).c_str(), of_total, 8'400'17)).mantissa;
        const auto off = match * (100 - percent) - 8'400'17 * percent; // hundredths of a cent's share
        CHECK(2 * std::abs(off) <= 100 - percent);
    }
}

TEST_CASE("the match required is rounded half up to the cent") {
    CHECK(required("50", of_grant, 1) == "0.01"); // computed: 0.5 cents
    CHECK(required("49", of_grant, 1) == "0.00");
    CHECK(required("20", of_total, 2) == "0.01");         // computed: 0.5 cents
    CHECK(required("20", of_total, 1) == "0.00");         // computed: 0.25 cents
    CHECK(required("33.3", of_total, 100'00) == "49.93"); // computed: 49.9250...
    CHECK(required("100", of_grant, 123'45) == "123.45");
}

TEST_CASE("without a percent, or without a base to take it of, no match is required") {
    CHECK(required("", of_total, 10'000'00) == "0.00");
    CHECK(required("20", ledger::match_base::none, 10'000'00) == "0.00");
    CHECK(required("0", of_grant, 10'000'00) == "0.00");
    CHECK(required("0", of_total, 10'000'00) == "0.00");
}

TEST_CASE("costs on match and gifts are match, those on the grant are not") {
    auto season = account_season{}.spend("travel", 100'00).match("travel", 30'00).match("travel", -5'00);
    CHECK(season.match_given() == "25.00");
    ledger::inkind gift;
    gift.entry = 99;
    gift.date = quantity::day_of("2026-04-01");
    gift.value = money{7'25};
    season.of.gifts.push_back(gift);
    CHECK(season.match_given() == "32.25");
    CHECK(season.direct() == "100.00");
}

TEST_CASE("match counts by its day, both ends of the quarter included") {
    const auto season = account_season{}
                            .match("travel", 1'00, "2026-03-31")
                            .match("travel", 2'00, "2026-04-01")
                            .match("travel", 4'00, "2026-06-30")
                            .match("travel", 8'00, "2026-07-01");
    const auto days = season.of.the_award->calendar().days_of({2026, 2});
    CHECK(season.match_given(days) == "6.00");
}
