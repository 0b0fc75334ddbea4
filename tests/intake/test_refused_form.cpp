#include "refusal_case.hpp"

using namespace tarewell::tests;
using namespace std::string_literals;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;
using tarewell::records::kind;

// The rules are the interchange format's; each case stands for one of its sentences.

TEST_CASE("a header that is not right is refused by the column's name") {
    expect_refusals({
        {kind::site, "site,name,colour\nS9,Mill,red\n", "sites.csv:1:colour", "is no column of this file"},
        {kind::site, "site,name,Twon\nS9,Mill,Wend\n", "sites.csv:1:Twon", "is no column"},
        {kind::site, "site,name,name\nS9,Mill,Mill\n", "sites.csv:1:name", "stands twice"},
        {kind::site, "site,name,\nS9,Mill,\n", "sites.csv:1:(no name)", "is no column"},
        {kind::site, "site;name\nS9;Mill\n", "sites.csv:1:site", "not set apart by commas"},
        {kind::grower, "grower,name\nG9,Ola\n", "growers.csv:1:region", "the column is missing"},
        {kind::site, "", "sites.csv:1:site", "the file is empty"},
        {kind::site, "PK\x03\x04", "sites.csv:1:site", "spreadsheet"},
        {kind::site, "site,name\rS9,Mill\r", "sites.csv:1:site", "carriage return"},
    });
}

TEST_CASE("a header that misses its required columns is refused for each of them") {
    base_season season;
    season.take_all();
    const auto lines = season.refusals(kind::cost, "cost,date\n");
    REQUIRE(lines.size() == 4);
    CHECK_THAT(lines[0], StartsWith("costs.csv:1:category: "));
    CHECK_THAT(lines[1], StartsWith("costs.csv:1:description: "));
    CHECK_THAT(lines[2], StartsWith("costs.csv:1:amount: "));
    CHECK_THAT(lines[3], StartsWith("costs.csv:1:fund: "));
}

TEST_CASE("a row whose form is broken is refused where it is broken") {
    expect_refusals({
        {kind::site, "site,name,town\nS9,Mill\n", "sites.csv:2:town", "the row has 2 values and the header 3"},
        {kind::site, "site,name\nS9,Mill,Wend\n", "sites.csv:2:name", "the row has 3 values and the header 2"},
        {kind::site, "site,name\n\nS9,Mill\n", "sites.csv:2:name", "the line is empty"},
        {kind::site, "site,name\nS8,\"a\nb\"\nS9,Mi\"ll\n", "sites.csv:4:name", "a double quote stands inside"},
        {kind::site, "site,name\n\"S9\"x,Mill\n", "sites.csv:2:site", "text follows a closing quote"},
        {kind::site, "site,name\nS9,\"Mill\n", "sites.csv:2:name", "not closed"},
        {kind::site, "site,name\nS9,\xE4pfel\n", "sites.csv:2:name", "is not valid UTF-8 (byte 0xE4)"},
        {kind::site, "site,name\nS9,Mi\x01ll\n", "sites.csv:2:name", "control character 0x01"},
    });
}

TEST_CASE("a NUL inside a value is refused") {
    base_season season;
    const auto lines = season.refusals(kind::site, "site,name\nS9,Mi\0ll\n"s);
    REQUIRE(lines.size() == 1);
    CHECK_THAT(lines[0], StartsWith("sites.csv:2:name: ") && Contains("control character 0x00"));
}

TEST_CASE("a text that no workbook's cell can hold is refused") {
    base_season season;
    const auto with = [&](std::size_t length) {
        return season.refusals(kind::site, "site,name\nS9," + std::string(length, 'x') + "\n");
    };
    CHECK(with(32'000).empty());
    const auto lines = season.refusals(kind::site, "site,name\nS10," + std::string(32'001, 'x') + "\n");
    REQUIRE(lines.size() == 1);
    CHECK_THAT(lines[0], StartsWith("sites.csv:2:name: ") && Contains("32,000"));
}

TEST_CASE("a value that its column cannot hold is refused") {
    const auto* tickets = "ticket,date,scale,weighs,subject,net,unit,entry\n";
    const auto ticket = [&](const char* row) { return std::string{tickets} + row + "\n"; };
    const std::string comma = ticket("T9,2026-05-21,P1,bale,L1,\"1,100\",lb,printed");
    const std::string zero = ticket("T9,2026-05-21,P1,bale,L1,0.0,lb,printed");
    const std::string sign = ticket("T9,2026-05-21,P1,bale,L1,-5,lb,printed");
    const std::string word = ticket("T9,2026-05-21,P1,bale,L1,5,stone,printed");
    const std::string exponent = ticket("T9,2026-05-21,P1,bale,L1,1e3,lb,printed");
    const std::string spaced = ticket("T9,2026-05-21,P1,bale,L1,5 ,lb,printed");
    const std::string spaced_id = ticket("T9,2026-05-21,P1,bale, L1,5,lb,printed");
    const std::string long_number = ticket("T9,2026-05-21,P1,bale,L1,1.0000000001,lb,printed");
    const std::string no_date = ticket("T9,2026-02-30,P1,bale,L1,5,lb,printed");
    const std::string missing = ticket("T9,2026-05-21,P1,bale,L1,,lb,printed");
    expect_refusals({
        {kind::ticket, comma.c_str(), "tickets.csv:2:net", "has a comma"},
        {kind::ticket, zero.c_str(), "tickets.csv:2:net", "is not above 0"},
        {kind::ticket, sign.c_str(), "tickets.csv:2:net", "has a sign"},
        {kind::ticket, word.c_str(), "tickets.csv:2:unit", "is not one of the words"},
        {kind::ticket, exponent.c_str(), "tickets.csv:2:net", "is not a number"},
        {kind::ticket, spaced.c_str(), "tickets.csv:2:net", "has spaces around it"},
        {kind::ticket, spaced_id.c_str(), "tickets.csv:2:subject", "has spaces around it"},
        {kind::ticket, long_number.c_str(), "tickets.csv:2:net", "more than 9 digits"},
        {kind::ticket, no_date.c_str(), "tickets.csv:2:date", "is not a date that exists"},
        {kind::ticket, missing.c_str(), "tickets.csv:2:net", "is empty"},
        {kind::site, "site,name,opens\nS9,Mill,8:30\n", "sites.csv:2:opens", "is not a time"},
        {kind::site, "site,name,closes\nS9,Mill,24:00\n", "sites.csv:2:closes", "is not a time"},
        {kind::site, "site,name\n\xC2\xA0S9,Mill\n", "sites.csv:2:site", "has spaces around it"},
        {kind::bundle, "bundle,registration,number,of\nB9,R1,0,3\n", "bundles.csv:2:number", "is below 1"},
        {kind::bundle, "bundle,registration,number,of\nB9,R1,1.5,3\n", "bundles.csv:2:number", "not a whole number"},
        {kind::cost, "cost,date,category,description,amount,fund\nC9,2026-05-03,travel,van,1.005,grant\n",
         "costs.csv:2:amount", "more than two decimals"},
        {kind::budget, "category,grant,match\nsupplies,-5,0\n", "budget.csv:2:grant", "has a sign"},
        {kind::cost, "cost,date,category,description,amount,fund\nC9,2026-05-03,gifts,van,1,grant\n",
         "costs.csv:2:category", "is not one of the words"},
    });
}

TEST_CASE("spaces in a text are data and no fault") {
    base_season season;
    CHECK(season.take(kind::site, "site,name\nS9, Mill \n").taken == 1);
    std::string name;
    season.ledger().for_each(kind::site, season.head(),
                             [&](const tarewell::ledger::stored_row& stored) { name = stored.values[1]; });
    CHECK(name == " Mill ");
}
