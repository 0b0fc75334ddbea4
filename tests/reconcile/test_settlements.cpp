#include "reconcile/settlements.hpp"

#include "reckoned_season.hpp"

#include <catch2/catch.hpp>

#include <random>

using namespace tarewell;
using namespace tarewell::tests;
using quantity::decimal_of;
using quantity::weight_unit;
using quantity::wide;
using records::price_unit;

namespace {

std::string price(const char* weight, weight_unit in, const char* price, price_unit per) {
    return quantity::text_of(records::price_of(decimal_of(weight), in, decimal_of(price), per));
}

/// Halves up, by whole numbers that are not below 0.
std::int64_t rounded(wide numerator, wide denominator) {
    return static_cast<std::int64_t>((2 * numerator + denominator) / (2 * denominator));
}

struct drawn_shipment {
    std::int64_t net_tenths = 0; ///< by our scale, lb
    std::int64_t received_tenths = 0, rejected_tenths = 0;
    std::int64_t price_e4 = 0; ///< dollars / 10,000
    bool in_kg = false, charge = false, by_ton = false, accepted = false, paid = false;
    [[nodiscard]] std::int64_t accepted_tenths() const { return received_tenths - rejected_tenths; }
    /// Cents: tenths x price / 10 / 10,000 x 100, over what a ton or tonne has of the unit.
    [[nodiscard]] std::int64_t cents() const {
        return rounded(wide{accepted_tenths()} * price_e4, wide{1'000} * (by_ton ? in_kg ? 1'000 : 2'000 : 1));
    }
    /// Thousandths of a pound.
    [[nodiscard]] std::int64_t in_pounds(std::int64_t tenths) const {
        return in_kg ? rounded(wide{tenths} * 100 * 100'000'000, 45'359'237) : tenths * 100;
    }
};

std::string tenths_text(std::int64_t tenths) { return fmt::format("{}.{}", tenths / 10, tenths % 10); }

std::vector<drawn_shipment> drawn(std::mt19937_64& chance) {
    const auto draw = [&](std::int64_t from, std::int64_t to) {
        return std::uniform_int_distribution<std::int64_t>{from, to}(chance);
    };
    std::vector<drawn_shipment> made(static_cast<std::size_t>(draw(1, 9)));
    for (auto& each : made) {
        each.net_tenths = draw(1'000, 400'000);
        each.in_kg = draw(0, 3) == 0;
        each.received_tenths = draw(500, 200'000);
        each.rejected_tenths = draw(0, 500);
        each.price_e4 = draw(1, 99'999);
        each.charge = draw(0, 2) == 0;
        each.by_ton = draw(0, 1) == 0;
        each.accepted = draw(0, 4) > 0;
        each.paid = each.accepted && draw(0, 3) > 0;
    }
    return made;
}

/// A season with a bale of one bundle for each shipment.
season_files season_of(const std::vector<drawn_shipment>& shipments) {
    season_files files{{"award.csv", "award,agency,program,region,begins,ends,goal_tons,quarter_starts,unit\n"
                                     "KB-26,Basin Agency,Kestrel Basin film,KB,2026-01-01,2026-12-31,30,1,lb\n"},
                       {"sites.csv", "site,name\nS1,Old Creamery\n"},
                       {"growers.csv", "grower,name,region\nG1,Ruth Ames,KB\n"},
                       {"scales.csv", "scale,class,capacity,division,unit\nP1,III,50000,0.1,lb\n"},
                       {"covers.csv", "registration,date,grower,site,cover\nR1,2026-05-01,G1,S1,1\n"},
                       {"bundles.csv", "bundle,registration,number,of,estimate,unit\n"},
                       {"receipts.csv", "receipt,date,site,bundle,outcome\n"},
                       {"bales.csv", "bale,date,site,bundle\n"},
                       {"shipments.csv", "shipment,date,processor,bale\n"},
                       {"tickets.csv", "ticket,date,scale,weighs,subject,net,unit,entry\n"},
                       {"acceptances.csv", "shipment,date,weight,unit,received,rejected,price,charge,per\n"},
                       {"costs.csv", "cost,date,category,description,payee,amount,fund,shipment\n"},
                       {"income.csv", "income,date,kind,method,description,amount,shipment\n"}};
    for (std::size_t i = 0; i < shipments.size(); ++i) {
        const auto& each = shipments[i];
        files["bundles.csv"] += fmt::format("B{},R1,{},{},50,lb\n", i, i + 1, shipments.size());
        files["receipts.csv"] += fmt::format("RC{0},2026-05-02,S1,B{0},accepted\n", i);
        files["bales.csv"] += fmt::format("L{0},2026-05-03,S1,B{0}\n", i);
        files["shipments.csv"] += fmt::format("SH{0},2026-05-05,Fen Polymer,L{0}\n", i);
        files["tickets.csv"] +=
            fmt::format("T{0},2026-05-04,P1,bale,L{0},{1},lb,printed\n", i, tenths_text(each.net_tenths));
        if (!each.accepted) continue;
        const auto written = quantity::fixed_text(each.price_e4, 4);
        files["acceptances.csv"] +=
            fmt::format("SH{},2026-05-20,{},{},{},{},{},{},{}\n", i, tenths_text(each.accepted_tenths()),
                        each.in_kg ? "kg" : "lb", tenths_text(each.received_tenths), tenths_text(each.rejected_tenths),
                        each.charge ? "" : written, each.charge ? written : "",
                        each.by_ton  ? each.in_kg ? "tonne" : "ton"
                        : each.in_kg ? "kg"
                                     : "lb");
        const auto amount = quantity::fixed_text(each.cents(), 2);
        if (each.paid && each.charge)
            files["costs.csv"] +=
                fmt::format("C{0},2026-05-21,contractual,film,Fen Polymer,{1},grant,SH{0}\n", i, amount);
        if (each.paid && !each.charge)
            files["income.csv"] += fmt::format("IN{0},2026-05-21,earned,addition,film,{1},SH{0}\n", i, amount);
    }
    return files;
}

} // namespace

TEST_CASE("a price times a weight is rounded half up to the cent once, in whatever units", "[settle]") {
    using enum price_unit;
    CHECK(price("10400", weight_unit::lb, "0.04", lb) == "416.00"); // computed: 10400 x 4 cents
    CHECK(price("255", weight_unit::lb, "0.0437", lb) == "11.14");  // computed: 11.1435
    CHECK(price("0.5", weight_unit::lb, "0.01", lb) == "0.01");     // computed: half a cent, up
    CHECK(price("0.499999999", weight_unit::lb, "0.01", lb) == "0.00");
    CHECK(price("255", weight_unit::lb, "30", ton) == "3.83"); // computed: .1275 x 30 = 3.825
    CHECK(price("1000", weight_unit::kg, "120.5", tonne) == "120.50");
    CHECK(price("1000", weight_unit::kg, "0.04", lb) == "88.18");     // computed: 2204.6226... x 4 cents = 8818.49
    CHECK(price("1000", weight_unit::lb, "1", kg) == "453.59");       // computed: 453.59237
    CHECK(price("907.18474", weight_unit::kg, "30", ton) == "30.00"); // computed: 2000 x 0.45359237 kg is a ton
    CHECK_THROWS_AS(price("999999999.999999999", weight_unit::kg, "999999999.999999999", lb), std::overflow_error);
}

TEST_CASE("a settlement of a random season is what its rows come to by hand", "[settle]") {
    const unsigned seasons = std::getenv("TAREWELL_LONG") != nullptr ? 200 : 12;
    for (unsigned seed = 1; seed <= seasons; ++seed) {
        CAPTURE(seed);
        std::mt19937_64 chance{seed};
        const auto shipments = drawn(chance);
        const reckoned_season made{season_of(shipments)};
        const auto found = reconcile::settlements_of(made.season(), made.reckoned());
        REQUIRE(found.size() == shipments.size());
        for (std::size_t i = 0; i < found.size(); ++i) {
            const auto& drew = shipments[i];
            const auto& has = found[made.season().find_shipment(fmt::format("SH{}", i)).index()];
            CAPTURE(i);
            CHECK(has.shipped.count() == drew.net_tenths * 100);
            REQUIRE((has.accepted != nullptr) == drew.accepted);
            CHECK(has.is_open() == (drew.accepted && !drew.paid && drew.cents() > 0));
            if (!drew.accepted) continue;
            CHECK(has.received->count() == drew.in_pounds(drew.received_tenths));
            CHECK(has.rejected_weight()->count() == drew.in_pounds(drew.rejected_tenths));
            CHECK(has.accepted->accepted_weight.count() == drew.in_pounds(drew.accepted_tenths()));
            CHECK(has.asked->count() == drew.cents());
            CHECK(has.settled().count() == (drew.paid ? drew.cents() : 0));
        }
    }
}
