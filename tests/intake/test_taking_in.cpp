#include "base_season.hpp"
#include "ledger/load_season.hpp"
#include "records/season.hpp"

#include <catch2/catch.hpp>

using namespace tarewell::tests;
using namespace tarewell;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;
using records::kind;
using ledger::load_season;

TEST_CASE("a season is taken in whole, file by file in its order") {
    base_season season;
    const auto summaries = season.take_all();
    REQUIRE(summaries.size() == 16);
    CHECK(summaries.front().kind_file == "award");
    CHECK(summaries.back().kind_file == "inkind");
    std::size_t rows = 0;
    for (const auto& each : summaries) {
        CHECK(each.taken == each.rows);
        CHECK(each.known == 0);
        CHECK(each.first == static_cast<records::entry_no>(rows) + 1);
        rows += each.rows;
        CHECK(each.last == static_cast<records::entry_no>(rows));
    }
    CHECK(season.head() == static_cast<records::entry_no>(rows));
}

TEST_CASE("taking the same season in twice changes nothing") {
    base_season season;
    season.take_all();
    const auto bytes = bytes_in(season.ledger().path());
    for (const auto& each : season.take_all()) {
        CHECK(each.taken == 0);
        CHECK(each.known == each.rows);
        CHECK(each.notes.empty());
    }
    CHECK(bytes_in(season.ledger().path()) == bytes);
}

TEST_CASE("of a file that grew only the new rows are taken in") {
    base_season season;
    season.take_all();
    const auto before = season.head();
    const auto summary = season.take(kind::site, base_files().at("sites.csv") + "S3,Mill,Wend\n");
    CHECK(summary.taken == 1);
    CHECK(summary.known == 2);
    CHECK(summary.first == before + 1);
    CHECK(season.head() == before + 1);
}

TEST_CASE("a known row with equal values is passed over however its numbers are written") {
    base_season season;
    season.take_all();
    const auto summary = season.take(kind::ticket, "net,ticket,date,scale,weighs,subject,gross,tare,unit,entry\n"
                                                   "110.00,T1,2026-05-21,P1,bale,L1,150.0,40,lb,printed\n");
    CHECK(summary.known == 1);
    CHECK(summary.taken == 0);
}

TEST_CASE("the same key with other values is refused with how to correct it") {
    base_season season;
    season.take_all();
    const auto lines = season.refusals(kind::cost, "cost,date,category,description,amount,fund\n"
                                                   "C1,2026-05-03,personnel,sorting,100.51,grant\n");
    REQUIRE(lines.size() == 1);
    CHECK_THAT(lines[0], StartsWith("costs.csv:2:cost: ") && Contains("is in the ledger with other values") &&
                             Contains("tarewell correct cost C1"));
    const auto two = season.refusals(kind::bale, "bale,date,site,bundle\nL1,2026-05-21,S2,B1\n");
    REQUIRE(two.size() == 1);
    CHECK_THAT(two[0], StartsWith("bales.csv:2:bundle: ") && Contains("tarewell correct bale L1 B1"));
    // A value left out is another value: the ledger holds "Wend".
    CHECK(season.refusals(kind::site, "site,name\nS1,Old Creamery\n").size() == 1);
}

TEST_CASE("a key that stands twice in one file is refused, equal or not") {
    base_season season;
    const auto lines = season.refusals(kind::site, "site,name\nS1,Mill\nS2,Creek\nS1,Mill\n");
    REQUIRE(lines.size() == 1);
    CHECK_THAT(lines[0], StartsWith("sites.csv:4:site: site S1 stands in line 2 already"));
}

TEST_CASE("a dry run checks everything and changes nothing") {
    base_season season;
    const auto empty = bytes_in(season.ledger().path());
    const auto summaries = season.take_all({true});
    CHECK(summaries.size() == 16);
    CHECK(summaries[5].taken == 5); // bundles, though none of the files before was written
    CHECK(season.head() == 0);
    CHECK(bytes_in(season.ledger().path()) == empty);
    const auto lines = season.refusals_of([&] { season.take(kind::receipt, "receipt,date\n", {true}); });
    CHECK_FALSE(lines.empty());
}

TEST_CASE("a season with an error in one file takes nothing in") {
    base_season season;
    season.folder().write("inkind.csv", "inkind,date,kind,giver,quantity,rate\nI1,2026-05-04,hours,Ola,two,1\n");
    const auto lines = season.season_refusals();
    REQUIRE(lines.size() == 1);
    CHECK_THAT(lines[0], StartsWith("inkind.csv:2:quantity: "));
    CHECK(season.head() == 0);
}

TEST_CASE("every bad row of every file is listed in their order") {
    base_season season;
    season.folder().write("sites.csv", "site,name\nS1,Old Creamery\n,Mill\nS2,Lot\nS4,\n");
    season.folder().write("costs.csv", "cost,date,category,description,amount,fund\n"
                                       "C1,2026-5-3,personnel,sorting,1.005,grant\nC2,2026-05-03,birds,x,1,grant\n");
    const auto lines = season.season_refusals();
    REQUIRE(lines.size() == 5);
    CHECK_THAT(lines[0], StartsWith("sites.csv:3:site: "));
    CHECK_THAT(lines[1], StartsWith("sites.csv:5:name: "));
    CHECK_THAT(lines[2], StartsWith("costs.csv:2:date: "));
    CHECK_THAT(lines[3], StartsWith("costs.csv:2:amount: "));
    CHECK_THAT(lines[4], StartsWith("costs.csv:3:category: "));
}

TEST_CASE("rows that name a refused row are not blamed for it") {
    base_season season;
    season.folder().write("growers.csv", "grower,name,region\nG1,Ruth Ames,XX\nG2,Ib Orn,KB\n");
    const auto lines = season.season_refusals();
    REQUIRE(lines.size() == 1);
    CHECK_THAT(lines[0], StartsWith("growers.csv:2:region: "));
}

TEST_CASE("a refused row excuses those that name it and no others") {
    base_season season;
    season.folder().write("sites.csv", base_files().at("sites.csv") + "S9,,\n");
    season.folder().write("receipts.csv", base_files().at("receipts.csv") + "RC9,2026-05-12,S1,,R1,9,held\n");
    const auto lines = season.season_refusals();
    REQUIRE(lines.size() == 2);
    CHECK_THAT(lines[0], StartsWith("sites.csv:4:name: "));
    CHECK_THAT(lines[1], StartsWith("receipts.csv:5:number: "));
}

TEST_CASE("a receipt by label is not blamed where a bundle's row was refused") {
    base_season season;
    auto bundles = base_files().at("bundles.csv");
    bundles.replace(bundles.find("B2,R1,2,3"), 9, "B2,R1,x,3");
    season.folder().write("bundles.csv", bundles);
    const auto lines = season.season_refusals();
    REQUIRE(lines.size() == 1);
    CHECK_THAT(lines[0], StartsWith("bundles.csv:3:number: "));
}

TEST_CASE("columns stand in any order and optional ones may be absent") {
    base_season season;
    CHECK(season.take(kind::site, "name,site\r\nMill,S9\r\n").taken == 1);
    const auto loaded = load_season(season.ledger(), season.head());
    CHECK(loaded.sites[0].id == records::site_id{"S9"});
    CHECK(loaded.sites[0].name == "Mill");
    CHECK(loaded.sites[0].town.empty());
}

TEST_CASE("a byte order mark and CR LF make no difference") {
    base_season season;
    CHECK(season.take(kind::site, "\xEF\xBB\xBFsite,name\r\nS9,Mill\r\n").taken == 1);
    CHECK(season.take(kind::site, "site,name\nS9,Mill\n").known == 1);
}

TEST_CASE("a header alone is a valid file, but an award has a row") {
    base_season season;
    const auto award = base_files().at("award.csv");
    const auto header = award.substr(0, award.find('\n') + 1);
    CHECK_THAT(season.refusals(kind::award, header).at(0), StartsWith("award.csv:1:award: the file has no row"));
    season.take(kind::award, award);
    for (const auto which : intake::season_files()) {
        if (which == kind::award) continue;
        std::string columns;
        for (const auto& column : records::info(which).columns)
            columns += (columns.empty() ? "" : ",") + std::string{column.name};
        const auto summary = season.take(which, columns + "\n");
        CHECK(summary.rows == 0);
    }
    CHECK(season.head() == 1);
}

TEST_CASE("a folder may hold some of the season's files, but not none") {
    base_season season;
    const temporary_folder other;
    CHECK_THROWS_AS(intake::take_season(season.ledger(), other.path(), season.around()), records::input_error);
    CHECK_THROWS_AS(intake::take_season(season.ledger(), other.file("none"), season.around()), records::io_error);
    other.write("sites.csv", base_files().at("sites.csv"));
    other.write("notes.txt", "not one of ours");
    CHECK(intake::take_season(season.ledger(), other.path(), season.around()).size() == 1);
}

TEST_CASE("a file that cannot be read is an error of the disk") {
    base_season season;
    const auto take = [&](const std::string& path) {
        intake::take_file(season.ledger(), kind::site, path, season.around());
    };
    CHECK_THROWS_AS(take(season.folder().file("none.csv")), records::io_error);
    CHECK_THROWS_AS(take(season.folder().path()), records::io_error);
}

TEST_CASE("weights are taken into the award's unit, and what was written is kept") {
    base_season season;
    season.take_all();
    season.take(kind::ticket,
                "ticket,date,scale,weighs,subject,net,unit,entry\nT9,2026-05-21,P1,bale,L1,45.359237,kg,manual\n");
    const auto loaded = load_season(season.ledger(), season.head());
    const auto& ticket = loaded.tickets.back();
    CHECK(ticket.net_weight == quantity::weight{100'000}); // computed: exactly 100 lb
    CHECK(ticket.net == quantity::decimal_of("45.359237"));
    CHECK(ticket.unit == quantity::weight_unit::kg);
}

TEST_CASE("an in-kind amount is its own where given, else quantity times rate") {
    base_season season;
    season.take_all();
    season.take(kind::inkind, "inkind,date,kind,giver,quantity,rate,amount\nI8,2026-05-04,miles,Ola,63,0.725,\n"
                              "I9,2026-05-04,miles,Ola,63,0.725,40\n");
    const auto gifts = load_season(season.ledger(), season.head()).gifts;
    CHECK(gifts[1].value == quantity::money{4'568}); // computed: 45.675, half up
    CHECK(gifts[2].value == quantity::money{4'000});
}

TEST_CASE("the grower unknown is built in") {
    base_season season;
    season.take_all();
    season.take(kind::cover, "registration,date,grower,site,cover\nR9,2026-05-01,unknown,S1,1\n");
    auto loaded = load_season(season.ledger(), season.head());
    const auto owner = [&] { return loaded.at(loaded.at(loaded.find_registration("R9")).grower).id.text(); };
    CHECK(owner() == "unknown");
    // It may be listed, whatever its region, and stays one grower.
    season.take(kind::grower, "grower,name,region\nunknown,(none),elsewhere\n");
    loaded = load_season(season.ledger(), season.head());
    CHECK(loaded.growers.size() == 3);
    // The bundles can be given a grower later by a correction.
    intake::correct(season.ledger(), kind::cover, {"R9"}, {{"grower", "G2"}}, "label found", season.around());
    loaded = load_season(season.ledger(), season.head());
    CHECK(owner() == "G2");
}

TEST_CASE("progress is told for a long file") {
    base_season season;
    std::string text = "site,name\n";
    for (int i = 0; i < 20'000; ++i)
        text += fmt::format("S{},Mill\n", i);
    std::vector<std::size_t> told;
    season.take(kind::site, text, {false, [&](const std::string&, std::size_t done, std::size_t whole) {
                                       CHECK(whole == text.size());
                                       told.push_back(done);
                                   }});
    REQUIRE(told.size() == 2);
    CHECK(told[0] < told[1]);
    CHECK(told[1] <= text.size());
}
