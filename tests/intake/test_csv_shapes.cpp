#include "intake/csv.hpp"
#include "support.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <cstdlib>

using namespace tarewell;
using csv_records = std::vector<std::vector<std::string>>;

namespace {

csv_records read_all(std::string_view text) {
    intake::csv_reader reader{text};
    intake::csv_record record;
    std::optional<intake::csv_fault> fault;
    csv_records all;
    while (reader.next(record, fault)) {
        if (fault)
            all.push_back({"(broken)"});
        else
            all.emplace_back(record.fields.begin(), record.fields.end());
    }
    return all;
}

/// The csv_records after the header, each as an object of texts.
nlohmann::json objects_in(std::string_view text) {
    auto all = read_all(text);
    auto objects = nlohmann::json::array();
    const auto& names = all.at(0);
    for (std::size_t i = 1; i < all.size(); ++i) {
        nlohmann::json object;
        for (std::size_t k = 0; k < names.size(); ++k)
            object[names[k]] = k < all[i].size() ? all[i][k] : "(none)";
        objects.push_back(object);
    }
    return objects;
}

} // namespace

// The shapes that CSV readers are commonly tried with (npm's csv-spectrum 2.0.0, BSD-2-Clause, has a file of each under
// these names), written anew for the Kestrel Basin. The published files themselves are read by check_csv_spectrum.
TEST_CASE("the twelve common shapes of CSV read cell for cell") {
    const struct {
        const char* name;
        std::string_view text;
        csv_records cells;
    } shapes[] = {
        {"simple", "bundle,number,of\nB1,2,3\n", {{"bundle", "number", "of"}, {"B1", "2", "3"}}},
        {"simple_crlf", "bundle,number,of\r\nB1,2,3\r\n", {{"bundle", "number", "of"}, {"B1", "2", "3"}}},
        {"comma_in_quotes",
         "site,name,town\nS1,Old Creamery,\"Wend, north end\"\n",
         {{"site", "name", "town"}, {"S1", "Old Creamery", "Wend, north end"}}},
        {"empty", "a,b,c\n1,\"\",\"\"\n2,3,4\n", {{"a", "b", "c"}, {"1", "", ""}, {"2", "3", "4"}}},
        {"empty_crlf", "a,b,c\r\n1,\"\",\"\"\r\n2,3,4\r\n", {{"a", "b", "c"}, {"1", "", ""}, {"2", "3", "4"}}},
        {"escaped_quotes", "a,b\n1,\"the \"\"wet\"\" lot\"\n3,4\n", {{"a", "b"}, {"1", "the \"wet\" lot"}, {"3", "4"}}},
        {"json",
         "key,val\n1,\"{\"\"kind\"\": \"\"point\"\", \"\"at\"\": [40.5, -3.25]}\"\n",
         {{"key", "val"}, {"1", "{\"kind\": \"point\", \"at\": [40.5, -3.25]}"}}},
        {"newlines",
         "a,b,c\n1,2,3\n\"Wend\nyard\",5,6\n7,8,9\n",
         {{"a", "b", "c"}, {"1", "2", "3"}, {"Wend\nyard", "5", "6"}, {"7", "8", "9"}}},
        {"newlines_crlf",
         "a,b,c\r\n1,2,3\r\n\"Wend\r\nyard\",5,6\r\n7,8,9\r\n",
         {{"a", "b", "c"}, {"1", "2", "3"}, {"Wend\r\nyard", "5", "6"}, {"7", "8", "9"}}},
        {"quotes_and_newlines",
         "a,b\n1,\"wet \n\"\"film\"\" \n\"\n3,4\n",
         {{"a", "b"}, {"1", "wet \n\"film\" \n"}, {"3", "4"}}},
        {"utf8", "a,b,c\n1,2,3\n4,5,ʤü\n", {{"a", "b", "c"}, {"1", "2", "3"}, {"4", "5", "ʤü"}}},
        // A quote inside a field that is not quoted: RFC 4180 has no reading of it, and it is refused.
        {"location_coordinates",
         "site,place\nS1,40°30'12.5\"N 3°15'2.1\"W\nS2,field\n",
         {{"site", "place"}, {"(broken)"}, {"S2", "field"}}},
        {"location_coordinates, quoted",
         "site,place\nS1,\"40°30'12.5\"\"N 3°15'2.1\"\"W\"\n",
         {{"site", "place"}, {"S1", "40°30'12.5\"N 3°15'2.1\"W"}}},
    };
    for (const auto& shape : shapes) {
        INFO(shape.name);
        CHECK(read_all(shape.text) == shape.cells);
        // The last line end may be missing.
        const auto open = shape.text.substr(0, shape.text.find_last_not_of("\r\n") + 1);
        CHECK(read_all(open) == shape.cells);
    }
}

// Hidden: TAREWELL_CSV_SPECTRUM names the folder of the package, which check_csv_spectrum fetches from npm.
TEST_CASE("the published files of csv-spectrum read as their cells are published", "[.][csv-spectrum]") {
    const char* folder = std::getenv("TAREWELL_CSV_SPECTRUM");
    REQUIRE(folder != nullptr);
    std::size_t read = 0;
    for (const auto& each : std::filesystem::directory_iterator{std::filesystem::path{folder} / "csvs"}) {
        const auto name = each.path().stem().string();
        INFO(name);
        const auto text = tests::bytes_in(each.path().string());
        const auto cells = nlohmann::json::parse(tests::bytes_in(fmt::format("{}/json/{}.json", folder, name)));
        ++read;
        if (name == "location_coordinates") {
            // Published wrong: a quote stands in a field that is not quoted, and its cells hold another telephone
            // number.
            CHECK(read_all(text).back() == std::vector<std::string>{"(broken)"});
            continue;
        }
        CHECK(objects_in(text) == cells);
    }
    std::printf("csv-spectrum: %zu published files read\n", read);
    CHECK(read == 12);
}
