#include "quiet_season.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <random>

using namespace tarewell;
using namespace tarewell::tests;
using quantity::weight;
using quantity::wide;

namespace {

/// "B1 57.600, B2 -": what each bundle in a bale takes of its net.
std::string shares_of(const reckoned_season& season, std::string_view bale) {
    std::string text;
    for (const auto place : season.bale(bale).inside) {
        const auto& share = season.reckoned().at(place).share;
        text += fmt::format("{}{} {}", text.empty() ? "" : ", ", season.season().at(place).id.text(),
                            share ? quantity::text_of(*share) : "-");
    }
    return text;
}

/// Bale L1 of the bundles given (own estimates), weighed at `net`, some with spot weights.
struct one_bale {
    struct bundle {
        const char* id;
        const char* estimate;
        const char* spot = "";
    };
    static season_files files(const std::vector<bundle>& bundles, const char* net) {
        auto made = quiet_season();
        for (const auto* name : {"hauls.csv", "shipments.csv", "acceptances.csv"})
            made.erase(name);
        made["covers.csv"] = "registration,date,grower,site,cover\nR1,2026-05-01,G1,S1,1\n";
        made["bundles.csv"] = "bundle,registration,number,of,estimate,unit\n";
        made["receipts.csv"] = "receipt,date,site,bundle,outcome\n";
        made["bales.csv"] = "bale,date,site,bundle\n";
        made["tickets.csv"] = fmt::format(
            "ticket,date,scale,weighs,subject,net,unit,entry\nT1,2026-05-22,P1,bale,L1,{},lb,printed\n", net);
        for (std::size_t i = 0; i < bundles.size(); ++i) {
            const auto& [id, estimate, spot] = bundles[i];
            made["bundles.csv"] += fmt::format("{},R1,{},{},{},lb\n", id, i + 1, bundles.size(), estimate);
            made["receipts.csv"] += fmt::format("RC{0},2026-05-10,S1,{1},accepted\n", i, id);
            made["bales.csv"] += fmt::format("L1,2026-05-20,S1,{}\n", id);
            if (*spot != '\0')
                made["tickets.csv"] += fmt::format("TS{},2026-05-15,P1,bundle,{},{},lb,manual\n", i, id, spot);
        }
        return made;
    }
};

std::string shared(const std::vector<one_bale::bundle>& bundles, const char* net) {
    return shares_of(reckoned_season{one_bale::files(bundles, net)}, "L1");
}

} // namespace

TEST_CASE("a bale's net is shared by estimate, in thousandths that sum to it") {
    // computed: 110 x 57.6/100.8 = 62.857142..., and the rest.
    CHECK(shares_of(reckoned_season{quiet_season()}, "L2") == "B3 62.857, B5 47.143");
    CHECK(shared({{"B1", "60"}, {"B2", "40"}}, "90") == "B1 54.000, B2 36.000");
}

TEST_CASE("odd thousandths go to the largest remainders, and among equals to the first by id") {
    CHECK(shared({{"B3", "50"}, {"B2", "50"}, {"B1", "50"}}, "100") == "B1 33.334, B2 33.333, B3 33.333");
    CHECK(shared({{"B3", "50"}, {"B2", "50"}, {"B1", "50"}}, "200") == "B1 66.667, B2 66.667, B3 66.666");
    // Ids are ordered bytewise: B10 stands before B9.
    CHECK(shared({{"B9", "50"}, {"B10", "50"}, {"b1", "50"}}, "100") == "B10 33.334, B9 33.333, b1 33.333");
    // computed: 100 x 1/6 = 16.666 6.., 100 x 2/6 = 33.333 3.., 100 x 3/6 = 50: the first has the largest remainder.
    CHECK(shared({{"B1", "20"}, {"B2", "40"}, {"B3", "60"}}, "100") == "B1 16.667, B2 33.333, B3 50.000");
}

TEST_CASE("a bundle with a spot weight takes it first and the others share what is left") {
    CHECK(shared({{"B1", "60", "45.5"}, {"B2", "40"}, {"B3", "20"}}, "105.5") == "B1 45.500, B2 40.000, B3 20.000");
    CHECK(shared({{"B1", "60", "40"}, {"B2", "40", "35"}, {"B3", "20"}}, "75.001") == "B1 40.000, B2 35.000, B3 0.001");
}

TEST_CASE("where spot weights leave nothing, all share by spot weight or estimate") {
    // computed: 75 shared by 40, 35 and the estimate 25: 30, 26.25, 18.75.
    CHECK(shared({{"B1", "60", "40"}, {"B2", "40", "35"}, {"B3", "25"}}, "75") == "B1 30.000, B2 26.250, B3 18.750");
    CHECK(shared({{"B1", "60", "40"}, {"B2", "40", "35"}, {"B3", "25"}}, "50") == "B1 20.000, B2 17.500, B3 12.500");
}

TEST_CASE("where every bundle has a spot weight, all share by spot weight") {
    CHECK(shared({{"B1", "60", "40"}, {"B2", "10", "60"}}, "110") == "B1 44.000, B2 66.000");
}

TEST_CASE("bundles that claim nothing share equally, and take nothing beside one that claims something") {
    CHECK(shared({{"B1", "0"}, {"B2", "0"}}, "55.001") == "B1 27.501, B2 27.500");
    CHECK(shared({{"B1", "0"}, {"B2", "40"}}, "55") == "B1 0.000, B2 55.000");
}

TEST_CASE("the first spot weight by date decides, then the first in order of entry") {
    auto files = one_bale::files({{"B1", "60", "45"}, {"B2", "40"}}, "100");
    files = added(files, "tickets.csv",
                  "TX,2026-05-14,P1,bundle,B1,50,lb,manual\nTY,2026-05-14,P1,bundle,B1,55,lb,manual\n");
    CHECK(shares_of(reckoned_season{files}, "L1") == "B1 50.000, B2 50.000");
}

TEST_CASE("a spot weight in kilograms is taken in pounds to the thousandth") {
    // computed: 20 kg = 44.0924524... lb (1 lb = 0.45359237 kg exactly).
    auto files = added(one_bale::files({{"B1", "60"}, {"B2", "40"}}, "100"), "tickets.csv",
                       "TX,2026-05-14,P1,bundle,B1,20,kg,manual\n");
    CHECK(shares_of(reckoned_season{files}, "L1") == "B1 44.092, B2 55.908");
}

TEST_CASE("an unweighed bale has no shares to give") {
    auto files = one_bale::files({{"B1", "60"}, {"B2", "40"}}, "100");
    files["tickets.csv"] = "ticket,date,scale,weighs,subject,net,unit,entry\n";
    CHECK(shares_of(reckoned_season{files}, "L1") == "B1 -, B2 -");
}

namespace {

/// Many bales of one to seven bundles, with random estimates, nets and spot weights.
season_files random_bales(unsigned seed, int bales) {
    std::mt19937 dice{seed};
    const auto draw = [&](int low, int high) { return std::uniform_int_distribution<int>{low, high}(dice); };
    auto files = one_bale::files({}, "1");
    files["tickets.csv"] = "ticket,date,scale,weighs,subject,net,unit,entry\n";
    std::string bundles;
    int count = 0;
    for (int bale = 0; bale < bales; ++bale) {
        const int inside = draw(1, 7);
        for (int i = 0; i < inside; ++i, ++count) {
            bundles += fmt::format("B{0},R1,{1},OF,{2}.{3},lb\n", 9'999 - count, count + 1, draw(0, 60), draw(0, 999));
            files["receipts.csv"] += fmt::format("RC{},2026-05-10,S1,B{},accepted\n", count, 9'999 - count);
            files["bales.csv"] += fmt::format("L{},2026-05-20,S1,B{}\n", bale, 9'999 - count);
            if (draw(0, 3) == 0)
                files["tickets.csv"] += fmt::format("TS{},2026-05-15,P1,bundle,B{},{}.{},lb,manual\n", count,
                                                    9'999 - count, draw(1, 90), draw(0, 9));
        }
        files["tickets.csv"] += fmt::format("T{},2026-05-22,P1,bale,L{},{}.{:03},{},printed\n", bale, bale,
                                            draw(1, 300), draw(0, 999), draw(0, 4) == 0 ? "kg" : "lb");
    }
    for (std::size_t at = 0; (at = bundles.find("OF", at)) != std::string::npos;)
        bundles.replace(at, 2, fmt::format("{}", count));
    files["bundles.csv"] += bundles;
    return files;
}

/// What part of `pool` the bundle's `part` of `whole` comes to, rounded down.
std::int64_t floor_share(std::int64_t pool, std::int64_t part, std::int64_t whole) {
    return static_cast<std::int64_t>(wide{pool} * part / whole);
}

} // namespace

TEST_CASE("in any bale the shares sum to the net, honour spot weights and are within a thousandth of exact") {
    const auto seed = GENERATE(range(1U, 7U));
    CAPTURE(seed);
    const reckoned_season season{random_bales(seed, 80)};
    const auto& s = season.season();
    const auto& r = season.reckoned();
    REQUIRE(r.bales.size() == 80);
    std::size_t honoured = 0, overridden = 0;
    for (const auto& bale : r.bales) {
        REQUIRE(bale.weighed);
        std::int64_t sum = 0, pool = bale.weighed->net.count(), claims = 0, without = 0;
        const auto spot = [&](auto place) {
            const auto& ticket = r.at(place).spot_ticket;
            return ticket ? s.tickets[*ticket].net_weight.count() : -1;
        };
        for (const auto place : bale.inside) {
            sum += r.at(place).share.value().count();
            if (spot(place) < 0)
                ++without;
            else
                pool -= spot(place);
        }
        CHECK(sum == bale.weighed->net.count());
        const bool spots_stand = pool > 0 && without > 0;
        if (!spots_stand) pool = bale.weighed->net.count();
        const auto part = [&](auto place) {
            return spot(place) < 0 ? r.at(place).claim.estimate.count() : spots_stand ? 0 : spot(place);
        };
        for (const auto place : bale.inside)
            claims += part(place);
        for (const auto place : bale.inside) {
            const auto share = r.at(place).share->count();
            if (spots_stand && spot(place) >= 0) {
                CHECK(share == spot(place));
                ++honoured;
                continue;
            }
            if (spot(place) >= 0) ++overridden;
            if (claims == 0) continue;
            CHECK(share >= floor_share(pool, part(place), claims));
            CHECK(share <= floor_share(pool, part(place), claims) + 1);
        }
    }
    CHECK(honoured > 10); // the draw reaches both ways
    CHECK(overridden > 5);
}
