#include "closed_basin.hpp"
#include "figures/cost_steps.hpp"
#include "figures/filed_closing.hpp"
#include "figures/pace.hpp"
#include "figures/quarters_across.hpp"
#include "ledger/load_season.hpp"
#include "ledger/verify.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;
using figures::text_of;

namespace {

const figures::closing_signatures three{"Maud Ellery", "Dell Rourke", "Odile Fenn"};

ledger::surroundings in_2027(const closed_basin& basin) {
    auto around = basin.around();
    around.now = [] { return std::string{"2027-02-01T09:30:00Z"}; };
    return around;
}

quantity::period named(const char* text) { return *quantity::read_period(text); }

figures::period_view seen(closed_basin& basin, const char* period) {
    return figures::view_period(basin.ledger(), named(period), basin.head());
}

std::string value_in(const figures::period_view& of, const char* figure) {
    return text_of(of.report.find(figure)->value);
}

records::entry_no close(closed_basin& basin, const char* period, const figures::closing_reasons& over = {}) {
    return figures::close_period(basin.ledger(), named(period), three, over, in_2027(basin));
}

const figures::figure_across& line_of(const figures::quarters_across& all, std::string_view figure) {
    for (const auto& each : all.lines)
        if (each.of->name == figure) return each;
    throw std::logic_error("no such figure");
}

} // namespace

TEST_CASE("a year's figures are what is dated in it, and those to date are its last quarter's") {
    closed_basin basin;
    basin.cost("C7", "2026-08-01", "40.25");
    basin.cost("C8", "2025-12-30", "9");
    const auto year = seen(basin, "2026");
    // C: 100.50 in May and 40.25 in August; 9 before the year is to date alone.
    CHECK(value_in(year, "grant_spent") == "140.75");
    CHECK(value_in(year, "grant_spent_to_date") == "149.75");
    CHECK(value_in(year, "diverted_weight") == "105.000");
    CHECK_THAT(year.report.find("grant_spent")->meaning, Contains("in the year"));
    for (const auto& each : figures::view_period(basin.ledger(), closed_basin::autumn, basin.head()).report.figures)
        if (each.name.ends_with("_to_date")) CHECK(text_of(each.value) == value_in(year, each.name.c_str()));
    // The whole award begins with what is dated first: nothing to date at its end is outside of it.
    CHECK(value_in(seen(basin, "final"), "grant_spent") == "149.75");
    CHECK(value_in(seen(basin, "2026-05..2026-07"), "grant_spent") == "100.50");
    CHECK(value_in(seen(basin, "2026-Q3..2026-Q4"), "grant_spent") == "40.25");
}

TEST_CASE("side by side, what the quarters filed and what changed since come to the year") {
    closed_basin basin;
    basin.close();
    basin.cost("C7", "2026-06-30", "12");
    basin.cost("C8", "2026-08-01", "40.25");
    const auto year = seen(basin, "2026");
    const auto across = figures::quarters_side_by_side(year.season, year.reckoning, year.report);
    REQUIRE(across.columns.size() == 4);
    CHECK(across.columns[1].closed != nullptr);
    CHECK(across.columns[2].closed == nullptr);
    CHECK(text_of(across.columns[1].shown_of("grant_spent")) == "100.50");
    CHECK(text_of(across.columns[1].now_of("grant_spent")) == "112.50");
    CHECK(text_of(line_of(across, "grant_spent").changed) == "12.00");
    CHECK(line_of(across, "growers_served").how == figures::across::once);
    CHECK(line_of(across, "growers_new").how == figures::across::sums);
    CHECK(line_of(across, "bales_made").how == figures::across::sums);
    CHECK(line_of(across, "grant_left").how == figures::across::at_end);
    CHECK(line_of(across, "goal_share").how == figures::across::at_end);
    CHECK(line_of(across, "cost_per_ton").how == figures::across::anew);
    CHECK(line_of(across, "tipping_avoided").how == figures::across::anew); // each quarter's is rounded
    std::size_t summed = 0;
    for (const auto& line : across.lines) {
        if (line.how != figures::across::sums || std::holds_alternative<figures::real>(line.of->value)) continue;
        INFO(line.of->name);
        auto sum = line.changed;
        for (const auto& each : across.columns)
            sum = figures::sum_of(sum, each.shown_of(line.of->name));
        CHECK(text_of(sum) == text_of(line.of->value));
        ++summed;
    }
    CHECK(summed > 15);
    for (const auto& line : across.lines)
        if (line.how == figures::across::at_end) {
            INFO(line.of->name);
            CHECK(text_of(across.columns.back().now_of(line.of->name)) == text_of(line.of->value));
        }
}

TEST_CASE("a span of months shows the parts of quarters, and the whole award what came before it") {
    closed_basin basin;
    basin.close();
    basin.cost("C8", "2025-12-30", "9");
    const auto months = seen(basin, "2026-05..2026-07");
    const auto parts = figures::quarters_side_by_side(months.season, months.reckoning, months.report);
    REQUIRE(parts.columns.size() == 2);
    CHECK(parts.columns[0].name == "2026-05-01 to 2026-06-30");
    CHECK(parts.columns[0].closed == nullptr); // the closing is of the whole quarter
    const auto award = seen(basin, "final");
    const auto all = figures::quarters_side_by_side(award.season, award.reckoning, award.report);
    REQUIRE(all.columns.size() == 5);
    CHECK(all.columns[0].name == "before 2026-01-01");
    CHECK(text_of(all.columns[0].now_of("grant_spent")) == "9.00");
    CHECK(all.columns[2].closed != nullptr);
}

TEST_CASE("a year or the award is closed over open quarters with a reason alone, and stands by it") {
    closed_basin basin;
    basin.close();
    const auto before = basin.head();
    CHECK_THAT(basin.refusals_of([&] { close(basin, "2026"); }).at(0),
               Contains("2026-Q1, 2026-Q3, 2026-Q4 are open; close them first") && Contains("--over-open 'why'"));
    CHECK_THAT(basin.refusals_of([&] { close(basin, "2026-Q1..2026-Q2", {}); }).at(0),
               Contains("is a span, which is looked at; close a quarter, a year or final"));
    CHECK(basin.head() == before);
    const auto entry = close(basin, "final", {{}, {}, "the program ended in June"});
    const auto filed = figures::filed_at(basin.ledger(), quantity::period::whole_award(), entry - 1);
    REQUIRE(filed.has_value());
    CHECK(filed->over_open == "2026-Q1, 2026-Q3, 2026-Q4: the program ended in June");
    CHECK(figures::remarks_of(*filed).at(0).what == "Closed while quarters were open");
    CHECK(ledger::verify(basin.ledger()).empty());
    basin.cost("C7", "2026-06-30", "12");
    CHECK(said(figures::restate(basin.ledger(), named("final"), basin.head()), "grant_spent") ==
          fmt::format("100.50 -> 112.50 (12.00) by {}, own rows", basin.head()));
    // Filed, it prints as it was; open again, as it is.
    CHECK(figures::as_of_period(basin.ledger(), named("final")) == entry - 1);
    figures::withdraw_period(basin.ledger(), named("final"), "a cost came late", in_2027(basin));
    CHECK(figures::as_of_period(basin.ledger(), named("final")) == basin.head());
    CHECK(figures::filed_at(basin.ledger(), closed_basin::spring, before - 1).has_value()); // the quarter's stands
}

TEST_CASE("a year's report carries what changed in its quarters, and a quarter's not what changed in a year") {
    closed_basin basin;
    for (const auto* quarter : {"2026-Q1", "2026-Q2", "2026-Q3", "2026-Q4"})
        close(basin, quarter);
    close(basin, "2026");
    CHECK_THAT(basin.refusals_of([&] { close(basin, "final", {{}, {}, "why"}); }).at(0), Contains("leave it out"));
    basin.cost("C7", "2026-06-30", "12");
    const auto carried = [&](const char* period) {
        const auto view = seen(basin, period);
        std::set<std::string> periods;
        for (const auto& each : figures::adjustments(basin.ledger(), view.season, view.reckoning, view.report.basis))
            periods.insert(quantity::text_of(each.period));
        return periods;
    };
    CHECK(carried("2026") == std::set<std::string>{"2026-Q2", "2026-Q3", "2026-Q4"});
    CHECK(carried("2026-Q4") == std::set<std::string>{"2026-Q2", "2026-Q3"});
    CHECK(carried("2026-Q1").empty());
}

TEST_CASE("the pace is by the days gone, and what is needed by the quarters left") {
    closed_basin basin;
    auto view = figures::view_period(basin.ledger(), closed_basin::spring, basin.head());
    const auto pace = figures::pace_of(view.season, view.reckoning, view.report);
    // C: 105 lb = 0.0525 tons of 30; January to June are 181 of 365 days; two quarters end after June 30.
    CHECK(quantity::text_of(pace.through) == "2026-06-30");
    CHECK(pace.days_gone == 181);
    CHECK(pace.days_in_all == 365);
    CHECK(pace.left == 29.9475);
    CHECK(pace.quarters_left == 2);
    CHECK(pace.needed_a_quarter == 14.97375);
    CHECK(pace.at_this_pace.value() == Approx(0.0525 * 365 / 181));
    CHECK(pace.so_far_a_quarter.value() == Approx(0.0525 * 365 / 181 / 4));
    view.season.the_award->goal_tons = quantity::decimal_of("0.05");
    CHECK(figures::pace_of(view.season, view.reckoning, view.report).needed_a_quarter == 0);
}

TEST_CASE("what the tons stand for is told by a named source alone") {
    closed_basin basin;
    const auto told = [&] {
        const auto view = figures::view_period(basin.ledger(), closed_basin::spring, basin.head());
        return figures::equivalents_of(view.season, view.report);
    };
    CHECK(told().shown.empty());
    CHECK(told().left_out.size() == 3);
    basin.record(records::kind::setting, {{"setting", "landfill_lb_per_yd3"}, {"value", "500"}});
    CHECK(told().shown.empty()); // a number of nobody's
    basin.record(records::kind::setting, {{"setting", "landfill_source"}, {"value", "a county's study"}});
    basin.record(records::kind::setting, {{"setting", "tipping_fee_per_ton"}, {"value", "80"}});
    const auto shown = told().shown;
    REQUIRE(shown.size() == 2);
    CHECK(text_of(shown[0].value) == "4.20"); // C: 0.0525 tons at 80
    CHECK(std::get<figures::real>(shown[1].value) == Approx(105.0 / 500));
    CHECK(shown[1].source == "a county's study");
}

TEST_CASE(
    "costs by purpose and by site both sum to what the period cost, and the next ton is told as far as it is known") {
    closed_basin basin;
    const auto costs = [&](const char* period) {
        const auto view = seen(basin, period);
        return figures::cost_steps_of(view.season, view.reckoning, view.report);
    };
    CHECK_FALSE(costs("2026").any_said);
    CHECK_THAT(costs("2026").next_ton.why_not, Contains("no cost or contribution says"));
    basin.record(records::kind::cost, {{"cost", "C2"},
                                       {"date", "2026-05-20"},
                                       {"category", "contractual"},
                                       {"description", "baler"},
                                       {"amount", "210"},
                                       {"fund", "grant"},
                                       {"purpose", "bale"},
                                       {"site", "S2"}});
    basin.record(records::kind::cost, {{"cost", "C3"},
                                       {"date", "2026-05-20"},
                                       {"category", "equipment"},
                                       {"description", "scale"},
                                       {"amount", "500"},
                                       {"fund", "match"},
                                       {"purpose", "collect"}});
    basin.record(records::kind::inkind, {{"inkind", "I2"},
                                         {"date", "2026-05-20"},
                                         {"kind", "hours"},
                                         {"giver", "Ola"},
                                         {"quantity", "3"},
                                         {"rate", "10"},
                                         {"purpose", "haul"}});
    const auto view = seen(basin, "2026");
    const auto made = figures::cost_steps_of(view.season, view.reckoning, view.report);
    const auto money_of = [&](const char* figure) {
        return std::get<quantity::money>(view.report.find(figure)->value);
    };
    const auto whole = money_of("grant_spent") + money_of("indirect_claimed") + money_of("match_given");
    CHECK(made.total.total() == whole);
    quantity::money purposes, sites;
    for (const auto& each : made.purposes)
        purposes += each.total();
    for (const auto& each : made.sites)
        sites += each.total();
    CHECK(purposes == whole);
    CHECK(sites == whole);
    CHECK(made.total.per_ton == std::get<figures::real>(view.report.find("cost_per_ton")->value));
    // C: steps 210 + 30; not said 100.50 + 63.60; equipment apart; over 0.0525 tons.
    CHECK(made.next_ton.low.value() == Approx(240 / 0.0525));
    CHECK(made.next_ton.high.value() == Approx(404.10 / 0.0525));
    CHECK(made.total.hours == 5);
    REQUIRE(made.sites.size() == 3); // S1, S2, none
    CHECK(made.sites[0].collected == quantity::weight{110'000});
    CHECK(made.sites[1].name == "S2");
    CHECK(text_of(made.sites[1].total()) == "210.00");
    CHECK_FALSE(made.sites[1].per_ton.has_value()); // nothing was accepted there
}
