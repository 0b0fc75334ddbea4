#include "intake/map_sheet.hpp"
#include "intake/map_values.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;

namespace {

intake::sheet_rules rules(const std::vector<std::pair<std::string, std::string>>& said) {
    intake::sheet_rules made;
    for (const auto& [rule, value] : said)
        made.set(rule, value);
    return made;
}

/// The value, or "! " and what is wrong.
std::string told(const intake::read_value& read) { return read.good() ? read.value : "! " + read.what; }

std::string date_of(const std::string& text, const std::string& order, bool all = true) {
    auto sheet = rules({{"dates", order}});
    if (all) {
        sheet.set("times", "drop");
        sheet.set("short_years", "20");
    }
    return told(intake::read_date(text, sheet));
}

std::string number_of(const std::string& text, const std::vector<std::pair<std::string, std::string>>& said,
                   const std::string& unit = {}, const std::string& into = {}) {
    return told(intake::read_number(text, rules(said), unit, into));
}

} // namespace

TEST_CASE("a map's dates are read in its order, and in no other", "[map]") {
    CHECK(date_of("10/3/2026", "mdy") == "2026-10-03");
    CHECK(date_of("10/3/2026", "dmy") == "2026-03-10");
    CHECK(date_of("3.10.2026", "dmy") == "2026-10-03");
    CHECK(date_of("2026/10/3", "ymd") == "2026-10-03");
    CHECK(date_of("2026-10-03", "mdy") == "2026-10-03"); // ours is ours in any order
    CHECK(date_of("10/3/26", "mdy") == "2026-10-03");
    CHECK(date_of("Oct 3, 2026", "mdy") == "2026-10-03");
    CHECK(date_of("3 October 2026", "mdy") == "2026-10-03");
    CHECK(date_of("10/3/2026 14:22:01", "mdy") == "2026-10-03");
    CHECK(date_of("2026-10-03T14:22", "ymd") == "2026-10-03");
    CHECK(date_of("31/4/2026", "dmy") == "! '31/4/2026' is no date in the map's order, dmy");
    CHECK(date_of("13/3/2026", "mdy") == "! '13/3/2026' is no date in the map's order, mdy");
    CHECK(date_of("3/2026", "mdy") == "! '3/2026' is no date in the map's order, mdy");
    CHECK(date_of("soon", "mdy") == "! 'soon' is no date in the map's order, mdy");
    CHECK(date_of("10/3/2026", "") == "! '10/3/2026' is not written as 2026-05-14");
    CHECK(date_of("10/3/26", "mdy", false) == "! '10/3/26' has a year of two digits");
    CHECK(date_of("10/3/2026 8:00", "mdy", false) == "! '10/3/2026 8:00' has a time of day");
}

TEST_CASE("a map's numbers are read by its marks, and no mark is guessed", "[map]") {
    CHECK(number_of("$1,234.50", {{"thousands", "comma"}, {"currency", "$"}}) == "1234.50");
    CHECK(number_of("1.234,50 €", {{"thousands", "point"}, {"decimal", "comma"}, {"currency", "€"}}) == "1234.50");
    CHECK(number_of("12 345", {{"thousands", "space"}}) == "12345");
    CHECK(number_of("(40.00)", {{"negatives", "parentheses"}}) == "-40.00");
    CHECK(number_of("-$5", {{"currency", "$"}}) == "-5");
    CHECK(number_of("0,5", {{"decimal", "comma"}}) == "0.5");
    CHECK(number_of("12,34", {{"thousands", "comma"}}).starts_with("! "));
    CHECK(number_of("1,2345", {{"thousands", "comma"}}).starts_with("! "));
    CHECK(number_of(",234", {{"thousands", "comma"}}).starts_with("! "));
    CHECK(number_of("1,234", {}).starts_with("! "));
    CHECK(number_of("$5", {}).starts_with("! "));
    CHECK(number_of("(40)", {}).starts_with("! "));
    CHECK(number_of("1.2.3", {}).starts_with("! "));
    CHECK(number_of("12 ft", {}, "", "ft").starts_with("! "));
    CHECK(number_of("1e3", {}).starts_with("! "));
}

TEST_CASE("a map's units are converted exactly, rounded once where they do not come out even", "[map]") {
    CHECK(number_of("96 in", {}, "ft", "ft") == "8");
    CHECK(number_of("96", {}, "ft", "ft") == "96");
    CHECK(number_of("96'", {}, "ft", "ft") == "96");
    CHECK(number_of("48' 6\"", {}, "ft", "ft") == "48.5");
    CHECK(number_of("8' 4\"", {}, "ft", "ft") == "8.333333");   // C: 100/12
    CHECK(number_of("30.48", {}, "m", "ft") == "100");          // C: 1 ft is 0.3048 m exactly (NIST Handbook 44, R2)
    CHECK(number_of("29 m", {}, "ft", "ft") == "95.144357");    // C: 290000/3048 = 95.14435695...
    CHECK(number_of("45.359237 kg", {}, "lb", "lb") == "100");  // C: 1 lb is 0.45359237 kg exactly
    CHECK(number_of("150 um", {}, "mil", "mil") == "5.905512"); // C: 1500/254 = 5.90551181...
    CHECK(number_of("362 lb", {}, "lb", "") == "362");
    CHECK(number_of("362 kg", {}, "lb", "").starts_with("! ")); // a ticket's unit stands beside it: what it says is kept
    CHECK(number_of("12 furlongs", {}, "ft", "ft").starts_with("! "));
    CHECK_FALSE(intake::read_number("29 m", rules({}), "ft", "ft").doubt.empty());
    CHECK(intake::read_number("96 in", rules({}), "ft", "ft").doubt.empty());
}

TEST_CASE("a map's words become ours whatever their case, and others are refused", "[map]") {
    const std::string words = "HT=high tunnel | GH = greenhouse | yes=accepted";
    CHECK(told(intake::read_word("ht", words)) == "high tunnel");
    CHECK(told(intake::read_word(" GH ", words)) == "greenhouse");
    CHECK(told(intake::read_word("High Tunnel", words)) == "high tunnel");
    CHECK(told(intake::read_word("shed", words)) == "! 'shed' is none of the map's words");
}

TEST_CASE("text files in other encodings are read as what they are", "[map]") {
    CHECK(intake::as_utf8("Ren\xE9"
                          "e \x80",
                          "cp1252") == "Renée €");
    CHECK(intake::as_utf8(std::string{"\xFF\xFE"
                                      "R\0\xE9\0\x3D\xD8\x00\xDE",
                                      10},
                          "utf-16") == "Ré😀");
    CHECK(intake::as_utf8(std::string{"\xFE\xFF\0R", 4}, "utf-16") == "R");
    CHECK_THROWS_AS(intake::as_utf8("Ren\xE9", ""), intake::unreadable);
    CHECK_THROWS_AS(intake::as_utf8("a\x81", "cp1252"), intake::unreadable); // CP1252 has none there
    CHECK_THROWS_AS(intake::as_utf8(std::string{"\xFF\xFE\x00\xD8", 4}, "utf-16"), intake::unreadable);
    CHECK_THROWS_AS(intake::as_utf8("\xFF\xFE"
                                    "a",
                                    "utf-16"),
                    intake::unreadable);
}
