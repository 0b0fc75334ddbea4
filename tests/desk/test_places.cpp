#include "clerk.hpp"
#include "quiet_season.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;

namespace {

nlohmann::ordered_json site_on(clerk& at, const std::string& site, const std::string& day) {
    const auto all = at.run({"sites", "--on", day, "--json"}).json();
    for (const auto& each : all["sites"])
        if (each["site"] == site) return each;
    throw std::logic_error("no site " + site);
}

/// The quiet season with a capacity of the first two sites, hours, and a bundle held at the third.
season_files with_capacities() {
    auto files = changed(quiet_season(), "sites.csv", "site,name,town\nS1,Old Creamery,Wend\nS2,Nursery lot,Aldwend\n",
                         "site,name,town,host,opens,closes,capacity_lb\nS1,Old Creamery,Wend,Odile Fenn 555 0101,08:00,"
                         "17:00,400\nS2,Nursery lot,Aldwend,,,,1000\n");
    files = changed(files, "sites.csv", "S3,Mill yard,Fen", "S3,Mill yard,Fen,,,,");
    files = with_registration(files, "B6,R3,1,1,,\n");
    return added(std::move(files), "receipts.csv", "RC6,2026-05-15,S3,B6,held,wet,\n");
}

} // namespace

TEST_CASE("what lies at a site follows receipts, hauls, bales, tickets and shipments, by their days", "[places]") {
    clerk at;
    at.take(with_capacities());
    // R1: 96 x 30 ft, three bundles; R2: 48 x 30 ft, two bundles.
    const auto early = site_on(at, "S1", "2026-05-12");
    CHECK(early["bundles_waiting"] == 3);
    CHECK(early["waits_for_haul"] == 3);
    CHECK(early["oldest"] == "2026-05-10");
    CHECK(early["bales"] == 0);
    CHECK(early["expected"].is_null());
    const auto hauled = site_on(at, "S1", "2026-05-15");
    CHECK(hauled["bundles_waiting"] == 0);
    CHECK(hauled["claimed"] == "0.000");
    CHECK(site_on(at, "S2", "2026-05-15")["bundles_waiting"] == 5);
    const auto pressed = site_on(at, "S2", "2026-05-20"); // L1 is pressed, B3 and B5 wait
    CHECK(pressed["bundles_waiting"] == 2);
    CHECK(pressed["bundles_not_weighed"] == 5);
    CHECK(pressed["waits_for_haul"] == 0);
    CHECK(pressed["bales"] == 1);
    CHECK(pressed["bales_net"] == "0.000");
    const auto weighed = site_on(at, "S2", "2026-05-22");
    CHECK(weighed["bundles_not_weighed"] == 0);
    CHECK(weighed["bales_net"] == "260.000"); // 150 + 110
    CHECK(weighed["share"] == Approx(.26));
    const auto shipped = site_on(at, "S2", "2026-05-25");
    CHECK(shipped["bales"] == 0);
    CHECK(shipped["bales_net"] == "0.000");
    const auto mill = site_on(at, "S3", "2026-05-15");
    CHECK(mill["held"] == 1);
    CHECK(mill["claimed"] == "0.000");
    CHECK(mill["capacity"].is_null());
    CHECK(site_on(at, "S3", "2026-05-14")["held"] == 0);
}

TEST_CASE("a site is full by the pace of the last 28 days, now, or not to be said", "[places]") {
    clerk at;
    at.take(with_capacities());
    const auto at_first = site_on(at, "S1", "2026-05-12");
    const auto claimed = std::stod(at_first["claimed"].get<std::string>());
    // (capacity less on hand) over a day's pace, rounded up to whole days; reckoned here by hand.
    const auto days = static_cast<int>(std::ceil((400 - claimed) / (claimed / 28)));
    CHECK(at_first["full_on"] == quantity::text_of(quantity::day_of("2026-05-12") + date::days{days}));
    const auto all =
        std::stod(site_on(at, "S2", "2026-05-15")["claimed"].get<std::string>()); // hauled, and S1 is empty
    CHECK(
        site_on(at, "S1", "2026-05-15")["full_on"] ==
        quantity::text_of(quantity::day_of("2026-05-15") + date::days{static_cast<int>(std::ceil(400 / (all / 28)))}));
    CHECK(site_on(at, "S1", "2026-08-01")["full_on"].is_null()); // nothing came since
    CHECK_THAT(site_on(at, "S1", "2026-08-01")["full_why"].get<std::string>(),
               Contains("nothing came in the last 28 days"));
    CHECK_THAT(at.must({"sites", "--on", "2026-08-01"}),
               Contains("nothing came in 28 days") && Contains("no capacity set"));
    at.must({"correct", "site", "S1", "--capacity_lb", "40000", "--why", "a field"});
    CHECK_THAT(at.must({"sites", "--on", "2026-05-12"}), Contains("not in 180 days"));
    CHECK_THAT(at.must({"sites", "S1", "--on", "2026-05-12"}), Contains("Full by: not in 180 days; 173 lb came in the 28 days to then\n"));
    at.must({"correct", "site", "S1", "--capacity_lb", "50", "--why", "a smaller lot"});
    CHECK(site_on(at, "S1", "2026-05-12")["full_on"] == "2026-05-12");
    CHECK_THAT(at.must({"sites", "--on", "2026-05-12"}), Contains("now"));
    CHECK_THAT(at.must({"due", "--on", "2026-05-12"}), Contains("Old Creamery (S1)") && Contains("; it is full"));
}

TEST_CASE("one site in full names its host, hours, bundles, what is held and why, and its bales' shipments",
          "[places]") {
    clerk at;
    at.take(with_capacities());
    const auto creamery = at.run({"sites", "creamery", "--on", "2026-05-13"});
    CHECK_THAT(creamery.err, Contains("site S1 (Old Creamery)"));
    CHECK_THAT(creamery.out, Contains("Host: Odile Fenn 555 0101\nOpen: 08:00 to 17:00\n") &&
                                 Contains("Waiting for a haul: 4 bundles") && Contains("Ruth Ames, 1 of 3"));
    CHECK_THAT(at.must({"sites", "S3", "--on", "2026-05-15"}), Contains("Held: 1 bundle\n") && Contains("wet"));
    const auto yard = at.run({"sites", "S2", "--on", "2026-05-23", "--json"}).json();
    REQUIRE(yard["bales"].size() == 2);
    CHECK(yard["bales"][0]["bale"] == "L1");
    CHECK(yard["bales"][0]["shipment"] == "SH1");
    CHECK(yard["bales"][0]["net"] == "150.000");
    CHECK(at.run({"sites", "S9"}).code == cli::bad_input);
    CHECK_THAT(at.run({"sites", "--on", "May"}).err, Contains("write a date as 2026-05-14"));
}
