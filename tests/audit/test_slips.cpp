#include <catch2/catch.hpp>

#include <cmath>
#include <fstream>

#include <nlohmann/json.hpp>

#include "audit/slip_cases.hpp"
#include "bench/audit_simulation.hpp"

using namespace tarewell::audit;
using tarewell::tests::place_of;
using tarewell::tests::read_slip_case;
using tarewell::tests::slip_case;

namespace {

nlohmann::json answers_of(const std::string& name) {
    std::ifstream file(tarewell::tests::source_path("tests/audit/data/slips/" + name) + "_answers.json");
    return nlohmann::json::parse(file);
}

const char* word_of(fair_call call) {
    switch (call) {
    case fair_call::fits:
        return "fits";
    case fair_call::runs_high:
        return "runs high";
    case fair_call::runs_low:
        return "runs low";
    case fair_call::check_first:
        return "check first";
    default:
        return "too little data";
    }
}

const named_slip* named(const slip_report& report, bool ticket, int index) {
    for (const auto& each : report.named) {
        if (each.item.ticket == ticket && each.item.index == index) {
            return &each;
        }
    }
    return nullptr;
}

Approx near(double value) { return Approx(value).margin(1e-6).epsilon(0.0); }

void check_worlds(const slip_case& given, const slip_report& report, const nlohmann::json& answers) {
    REQUIRE(report.worlds.size() == answers.at("worlds").size());
    for (std::size_t h = 0; h < report.worlds.size(); ++h) {
        const auto& ours = report.worlds[h];
        const auto& theirs = answers.at("worlds").at(h);
        CHECK(ours.weight == near(theirs.at("weight").get<double>()));
        CHECK(ours.log_posterior == near(theirs.at("log_posterior").get<double>()));
        CHECK(ours.log_evidence == near(theirs.at("log_marginal").get<double>()));
        REQUIRE(ours.wrong_tickets.size() == theirs.at("bales").size());
        for (std::size_t k = 0; k < ours.wrong_tickets.size(); ++k) {
            CHECK(given.bales[static_cast<std::size_t>(ours.wrong_tickets[k])] == theirs.at("bales").at(k));
        }
        REQUIRE(ours.claims.size() == theirs.at("slips").size());
    }
}

void check_growers(const slip_case& given, const slip_report& report, const nlohmann::json& answers) {
    for (std::size_t g = 0; g < given.growers.size(); ++g) {
        const auto& ours = report.growers[g];
        const auto& theirs = answers.at("growers").at(given.growers[g]);
        INFO(given.growers[g]);
        CHECK(ours.ratio == near(theirs.at("ratio").get<double>()));
        CHECK(ours.low == near(theirs.at("low").get<double>()));
        CHECK(ours.high == near(theirs.at("high").get<double>()));
        CHECK(ours.p_runs_high == near(theirs.at("p_light").get<double>()));
        CHECK(ours.p_runs_low == near(theirs.at("p_heavy").get<double>()));
        CHECK(ours.p_slip == near(theirs.at("p_slip").get<double>()));
        CHECK(std::string(word_of(ours.call)) == theirs.at("call").get<std::string>());
    }
}

} // namespace

TEST_CASE("Three seasons with slips get a dense prototype's worlds, ratios and calls", "[slips]") {
    // data/slips: a program in another language (numpy and scipy, dense matrices), on the same grid.
    for (const std::string name : {"a", "b", "c"}) {
        INFO(name);
        const auto given = read_slip_case(name);
        const auto answers = answers_of(name);
        const auto report = find_slips(given.season);
        REQUIRE(report.status == slip_status::averaged);
        check_worlds(given, report, answers);
        check_growers(given, report, answers);
        for (const auto& [bale, p] : answers.at("bales").items()) {
            CHECK(report.p_ticket[static_cast<std::size_t>(place_of(given.bales, bale))] == near(p.get<double>()));
        }
        for (const auto& [of, mean] : answers.at("no_slip").at("mean_by_class").items()) {
            CHECK(report.class_ratio[static_cast<std::size_t>(place_of(given.classes, of))] ==
                  near(mean.get<double>()));
        }
        REQUIRE(report.named.size() == answers.at("named").size());
        for (const auto& theirs : answers.at("named")) {
            const auto item = theirs.at("item").get<std::string>();
            const bool ticket = item[0] == 'L';
            const auto* ours = named(report, ticket, place_of(ticket ? given.bales : given.growers, item));
            REQUIRE(ours != nullptr);
            CHECK(ours->item.probability == near(theirs.at("p").get<double>()));
            if (!ticket) {
                CHECK(ours->without_one_bale == near(theirs.at("p_without_one_bale").get<double>()));
                CHECK(given.bales[static_cast<std::size_t>(ours->that_bale)] == theirs.at("that_bale"));
                CHECK(ours->or_that_ticket == (theirs.at("reads") != "slip"));
            }
        }
        REQUIRE(report.either.size() == answers.at("either").size());
    }
}

TEST_CASE("What the office confirms is no hypothesis any more", "[slips]") {
    auto given = read_slip_case("c"); // either G01's claim or the ticket of L002
    const int bale = place_of(given.bales, "L002");
    const int grower = place_of(given.growers, "G01");
    const auto open = find_slips(given.season);
    REQUIRE(named(open, false, grower) != nullptr);
    CHECK(named(open, false, grower)->or_that_ticket);
    CHECK(open.p_ticket[static_cast<std::size_t>(bale)] > .2);

    auto seen = given.season;
    seen.ticket_seen.assign(seen.weighed.bales.size(), 0);
    seen.ticket_seen[static_cast<std::size_t>(bale)] = 1;
    const auto by_ticket = find_slips(seen);
    CHECK(by_ticket.p_ticket[static_cast<std::size_t>(bale)] == 0.0);
    CHECK(by_ticket.growers[static_cast<std::size_t>(grower)].p_slip > .9);

    auto right = given.season;
    right.claim_is_right.assign(given.registrations.size(), 0);
    for (std::size_t b = 0; b < right.weighed.bundles.size(); ++b) {
        if (right.weighed.bundles[b].grower == grower) {
            right.claim_is_right[static_cast<std::size_t>(right.registration[b])] = 1;
        }
    }
    const auto by_form = find_slips(right);
    CHECK(by_form.growers[static_cast<std::size_t>(grower)].p_slip == 0.0);
    CHECK(named(by_form, true, bale) != nullptr);
}

TEST_CASE("The best world alone finds the slips that are plain", "[slips]") {
    tarewell::bench::simulation plan;
    plan.growers = 60;
    plan.sites = 4;
    plan.bales = 120;
    plan.bundles_in_bale = 6;
    plan.sd_grower = .07;
    plan.sd_site = .03;
    plan.sd_bundle = .08;
    slip_season season;
    season.weighed = tarewell::bench::simulate(plan, 3).season;
    constexpr int forgetful = 10;
    for (auto& bundle : season.weighed.bundles) {
        season.registration.push_back(bundle.grower);
        bundle.estimate *= bundle.grower == forgetful ? .5 : 1.0;
    }
    constexpr int mistyped = 17;
    season.weighed.bales[mistyped].net *= 10.0;
    slip_options large;
    large.largest_work = 1.0;
    const auto report = find_slips(season, large);
    REQUIRE(report.status == slip_status::best_world);
    REQUIRE(report.worlds.size() == 1);
    CHECK(report.worlds[0].wrong_tickets == std::vector<int>{mistyped});
    REQUIRE(report.worlds[0].claims.size() == 1);
    CHECK(report.worlds[0].claims[0].index == forgetful);
    CHECK(report.worlds[0].claims[0].factor == 2.0);
    CHECK(named(report, true, mistyped) != nullptr);
    CHECK(named(report, false, forgetful) != nullptr);
    CHECK(report.growers[forgetful].call == fair_call::runs_low);
    // One component of 30 bales a site: all worlds can be looked at too, and say nearly the same.
    const auto averaged = find_slips(season);
    REQUIRE(averaged.status == slip_status::averaged);
    for (std::size_t g = 0; g < report.growers.size(); ++g) {
        CHECK(report.growers[g].ratio == Approx(averaged.growers[g].ratio).margin(.03));
    }
}

TEST_CASE("The season of the best world has its slips taken out", "[slips]") {
    const auto given = read_slip_case("b");
    const auto report = find_slips(given.season);
    const auto corrected = corrected_season(given.season, report.worlds.front());
    const int grower = place_of(given.growers, "G15");
    CHECK(std::isnan(corrected.bales[static_cast<std::size_t>(place_of(given.bales, "L002"))].net));
    for (std::size_t b = 0; b < corrected.bundles.size(); ++b) {
        const double factor = corrected.bundles[b].estimate / given.season.weighed.bundles[b].estimate;
        CHECK((factor == Approx(1.0) || (corrected.bundles[b].grower == grower && factor == Approx(2.0))));
    }
}

TEST_CASE("Letters go to nobody whose claim is to be checked first, and ask what the ratio suggests", "[slips]") {
    for (const std::string name : {"a", "b", "c"}) {
        const auto report = find_slips(read_slip_case(name).season);
        for (const auto& grower : report.growers) {
            const bool called = grower.call == fair_call::runs_high || grower.call == fair_call::runs_low;
            CHECK((called || !grower.letter));
            CHECK((grower.letter || grower.ask.empty()));
            if (grower.letter) {
                CHECK(grower.bales >= 2);
                CHECK(std::max(grower.p_runs_high, grower.p_runs_low) >= .975);
            }
        }
    }
}

TEST_CASE("Seasons that say nothing are told so, and nonsense is refused", "[slips]") {
    CHECK(find_slips({}).status == slip_status::too_few);
    slip_season two;
    two.weighed = {2, 1, 1, {{95, 0}, {0, 0}}, {{0, 0, 0, 0, 50}, {0, 1, 0, 0, 50}, {1, 1, 0, 0, 40}}};
    two.registration = {0, 1, 1};
    const auto report = find_slips(two);
    CHECK(report.status == slip_status::too_few);
    CHECK(report.growers[0].call == fair_call::too_little_data);
    two.registration = {0, 1};
    CHECK_THROWS_AS(find_slips(two), std::invalid_argument);
    two.registration = {0, 0, 1}; // one registration of two growers
    CHECK_THROWS_AS(find_slips(two), std::invalid_argument);
}
