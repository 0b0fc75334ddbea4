#include "quiet_season.hpp"
#include "reckoned_season.hpp"
#include "reconcile/scales.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using namespace tarewell::reconcile;
using class_of = accuracy_class;

TEST_CASE("maintenance tolerances of class III step at 500, 2,000 and 4,000 divisions") {
    // read in a secondary source: a copy of NIST Handbook 44 (2023), 2.20 Table 6.
    CHECK(tolerance_divisions(class_of::iii, 1) == 1);
    CHECK(tolerance_divisions(class_of::iii, 500) == 1);
    CHECK(tolerance_divisions(class_of::iii, 501) == 2);
    CHECK(tolerance_divisions(class_of::iii, 2'000) == 2);
    CHECK(tolerance_divisions(class_of::iii, 2'001) == 3);
    CHECK(tolerance_divisions(class_of::iii, 4'000) == 3);
    CHECK(tolerance_divisions(class_of::iii, 4'001) == 5);
    CHECK(tolerance_divisions(class_of::iii, 10'000) == 5);
}

TEST_CASE("acceptance tolerances of a weigh module handbook are half of ours") {
    // read in Weigh Module Systems Handbook (12/99) p. 3-12, class III acceptance: 1,000 d +-1.0 d, 3,000 d +-1.5 d,
    // full capacity (10,000 d) +-2.5 d. Acceptance is half of maintenance: read in a secondary source, the same copy,
    // T.N.3.2.
    CHECK(static_cast<double>(tolerance_divisions(class_of::iii, 1'000)) / 2 == 1.0);
    CHECK(static_cast<double>(tolerance_divisions(class_of::iii, 3'000)) / 2 == 1.5);
    CHECK(static_cast<double>(tolerance_divisions(class_of::iii, 10'000)) / 2 == 2.5);
}

TEST_CASE("class III L allows a division more for each 500 or part, past 1,000") {
    // from memory: NIST Handbook 44, 2.20 Table 6.
    CHECK(tolerance_divisions(class_of::iii_l, 500) == 1);
    CHECK(tolerance_divisions(class_of::iii_l, 501) == 2);
    CHECK(tolerance_divisions(class_of::iii_l, 1'000) == 2);
    CHECK(tolerance_divisions(class_of::iii_l, 1'001) == 3);
    CHECK(tolerance_divisions(class_of::iii_l, 1'500) == 3);
    CHECK(tolerance_divisions(class_of::iii_l, 1'501) == 4);
    CHECK(tolerance_divisions(class_of::iii_l, 10'000) == 20);
}

TEST_CASE("classes II and IIII have steps of their own") {
    // from memory: NIST Handbook 44, 2.20 Table 6.
    CHECK(tolerance_divisions(class_of::ii, 5'000) == 1);
    CHECK(tolerance_divisions(class_of::ii, 5'001) == 2);
    CHECK(tolerance_divisions(class_of::ii, 20'000) == 2);
    CHECK(tolerance_divisions(class_of::ii, 20'001) == 3);
    CHECK(tolerance_divisions(class_of::iiii, 50) == 1);
    CHECK(tolerance_divisions(class_of::iiii, 51) == 2);
    CHECK(tolerance_divisions(class_of::iiii, 200) == 2);
    CHECK(tolerance_divisions(class_of::iiii, 201) == 3);
    CHECK(tolerance_divisions(class_of::iiii, 400) == 3);
    CHECK(tolerance_divisions(class_of::iiii, 401) == 5);
}

TEST_CASE("the recommended least loads are 20, 50 and 10 divisions") {
    // read in a secondary source: the same copy, Table 8. Class II: none is kept here.
    CHECK(minimum_load_divisions(class_of::iii) == 20);
    CHECK(minimum_load_divisions(class_of::iii_l) == 50);
    CHECK(minimum_load_divisions(class_of::iiii) == 10);
    CHECK(minimum_load_divisions(class_of::ii) == 0);
}

TEST_CASE("a scale's class is read as it is written on its plate, and no other way") {
    CHECK(read_accuracy_class("II") == class_of::ii);
    CHECK(read_accuracy_class("III") == class_of::iii);
    CHECK(read_accuracy_class("IIII") == class_of::iiii);
    for (const auto* text : {"III L", "IIIL", "III-L"})
        CHECK(read_accuracy_class(text) == class_of::iii_l);
    for (const auto* text : {"", "I", "iii", "3", " III", "III  L", "IV"})
        CHECK_FALSE(read_accuracy_class(text));
}

namespace {

/// The quiet season with a vehicle scale P2 (class III L, divisions of 10 lb) and one ticket of it on the load.
season_files vehicle_ticket(std::string_view gross_tare_net_unit, std::string_view award_unit = "lb") {
    auto files = added(quiet_season(), "scales.csv", "P2,III L,80000,10,lb,,\n");
    files = changed(files, "award.csv", "30,1,lb", fmt::format("30,1,{}", award_unit));
    return added(files, "tickets.csv", fmt::format("T9,2026-05-25,P2,load,SH1,{},printed,\n", gross_tare_net_unit));
}

struct weighed_load {
    explicit weighed_load(const season_files& files) : season{files} {}
    reckoned_season season;
    [[nodiscard]] const records::ticket& ticket() const { return season.season().tickets.back(); }
    [[nodiscard]] const records::scale& scale() const { return season.season().at(ticket().scale); }
    [[nodiscard]] std::string tolerance() const { return quantity::text_of(tolerance_of(season.season(), ticket())); }
};

} // namespace

TEST_CASE("a vehicle scale with 10 lb divisions allows 30 lb on a load of 15,000 lb") {
    // read in a secondary source: an exam preparation text: class III L, 10 lb divisions, 15,000 lb: +-30 lb
    // maintenance.
    CHECK(weighed_load{vehicle_ticket(",,15000,lb")}.tolerance() == "30.000");
    CHECK(weighed_load{vehicle_ticket(",,15010,lb")}.tolerance() == "40.000");
    // computed: 3 divisions of 10 lb are 13.6077711 kg; the division is rounded to a thousandth first, 4.536 kg.
    CHECK(weighed_load{vehicle_ticket(",,15000,lb", "kg")}.tolerance() == "13.608");
}

TEST_CASE("a net is counted in divisions of its scale, whatever its unit") {
    const auto divisions = [](const char* net) {
        const weighed_load load{vehicle_ticket(net)};
        return net_in_divisions(load.scale(), load.ticket());
    };
    CHECK(divisions(",,15009,lb") == 1'500);
    CHECK(divisions(",,45.359237,kg") == 10); // computed: 100 lb exactly
    CHECK(divisions(",,45.359236,kg") == 9);
}

TEST_CASE("a ticket in another unit than its scale is not asked for whole divisions") {
    const auto on = [](const char* net) {
        const weighed_load load{vehicle_ticket(net)};
        return on_division(load.scale(), load.ticket());
    };
    CHECK(on(",,15000,lb"));
    CHECK_FALSE(on(",,15005,lb"));
    CHECK_FALSE(on(",,15000.1,lb"));
    CHECK(on(",,6803.9,kg"));
}
