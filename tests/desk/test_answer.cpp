#include "desk/answer.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <limits>

using namespace tarewell;
using desk::answer;
using desk::cell;
using desk::table;
using desk::value;

TEST_CASE("a value is written as JSON of two spaces a level, its fields in their order", "[answer]") {
    value made{{"z", 1}, {"a", nullptr}, {"yes", true}, {"list", value::array()}};
    made["none"] = value::object();
    made["list"].push_back("it's \"quoted\"\n");
    made["list"].push_back(-0.25);
    CHECK(made.json() == "{\n  \"z\": 1,\n  \"a\": null,\n  \"yes\": true,\n  \"list\": [\n    \"it's "
                         "\\\"quoted\\\"\\n\",\n    -0.25\n  ],\n  \"none\": {}\n}");
    CHECK(made.json(false) == R"({"z":1,"a":null,"yes":true,"list":["it's \"quoted\"\n",-0.25],"none":{}})");
    CHECK(nlohmann::ordered_json::parse(made.json()).dump(2) == made.json()); // another reader and writer
}

TEST_CASE("numbers at the ends of their ranges are written whole, and what is no number is null", "[answer]") {
    CHECK(value{std::numeric_limits<std::uint64_t>::max()}.json() == "18446744073709551615");
    CHECK(value{std::numeric_limits<std::int64_t>::min()}.json() == "-9223372036854775808");
    CHECK(value{std::numeric_limits<double>::infinity()}.json() == "null");
    CHECK(value{std::numeric_limits<double>::quiet_NaN()}.json() == "null");
    CHECK(value{2.0}.json() == "2.0");
}

TEST_CASE("amounts, weights and days are texts, and what is not given is null", "[answer]") {
    CHECK(value{quantity::money{-5}}.json() == "\"-0.05\"");
    CHECK(value{quantity::weight{110'000}}.json() == "\"110.000\"");
    CHECK(value{quantity::day_of("2026-05-14")}.json() == "\"2026-05-14\"");
    CHECK(value{std::optional<quantity::weight>{}}.is_null());
    CHECK(*value{std::optional<quantity::weight>{quantity::weight{1}}}.text() == "0.001");
}

TEST_CASE("text that is not UTF-8 is refused, not written", "[answer]") {
    CHECK_THROWS_AS(value{"\xff"}.json(), std::invalid_argument);
}

TEST_CASE("one table tells people and machines: headings, names, and what is for one of them alone", "[answer]") {
    table of{{"bale", "weighs=net", "note=", "=sure", "=reason"}};
    of.add({"B1", cell{"12.5", "12.500"}, "odd\nline", true, cell::only_if(false, "never")});
    of.add({"B22", quantity::weight{110'000}, "", false, cell::only_if(true, "wet")});
    CHECK(of.text() == "bale   weighs  note\nB1       12.5  odd line\nB22   110.000\n");
    CHECK(of.rows().json(false) == R"([{"bale":"B1","net":"12.500","sure":true},)"
                                   R"({"bale":"B22","net":"110.000","sure":false,"reason":"wet"}])");
}

TEST_CASE("columns are as wide as their characters, not their bytes", "[answer]") {
    table of{{"name", "x"}};
    of.add({"\xc3\xa9t\xc3\xa9", 1});
    CHECK(of.text() == "name  x\n\xc3\xa9t\xc3\xa9   1\n");
}

TEST_CASE("an answer keeps the order in which it was told, to each in its way", "[answer]") {
    table of{{"item"}};
    of.add({"T1"});
    answer made;
    made.data["as_of"] = 7;
    made.say("{} of {}\n", 1, 2);
    made.tell("items", of);
    made.say("done\n");
    CHECK(made.text() == "1 of 2\nitem\nT1\ndone\n");
    CHECK(made.json() == "{\n  \"as_of\": 7,\n  \"items\": [\n    {\n      \"item\": \"T1\"\n    }\n  ]\n}\n");
    CHECK_FALSE(made.found);
}
