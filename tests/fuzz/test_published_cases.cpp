#include "intake/csv.hpp"
#include "quantity/decimal.hpp"
#include "support.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using csv_records = std::vector<std::vector<std::string>>;

namespace {

/// Reads a file of the fuzzers' seed corpus; a broken record becomes one field, "(broken)".
csv_records read_seed(const std::string& name) {
    const auto text = tests::bytes_in(tarewell::tests::source_path("tests/fuzz/corpus/csv/" + name));
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

} // namespace

TEST_CASE("the examples of RFC 4180, section 2, read as it says") {
    CHECK(read_seed("rfc4180_1_line_breaks") == csv_records{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}});
    CHECK(read_seed("rfc4180_2_last_line_open") == csv_records{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}});
    CHECK(read_seed("rfc4180_3_header") ==
          csv_records{{"field_name", "field_name", "field_name"}, {"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}});
    CHECK(read_seed("rfc4180_5_quotes") == csv_records{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}});
    CHECK(read_seed("rfc4180_6_line_break_inside") == csv_records{{"aaa", "b\r\nbb", "ccc"}, {"zzz", "yyy", "xxx"}});
    CHECK(read_seed("rfc4180_7_doubled_quote") == csv_records{{"aaa", "b\"bb", "ccc"}});
}

TEST_CASE("the seeds that break the form are refused where RFC 4180 gives no reading") {
    CHECK(read_seed("unclosed_quote") == csv_records{{"site", "name"}, {"(broken)"}});
    CHECK(read_seed("quote_inside") == csv_records{{"site", "name"}, {"(broken)"}});
    CHECK(read_seed("text_after_quote") == csv_records{{"site", "name"}, {"(broken)"}});
    CHECK(read_seed("carriage_return_alone") == csv_records{{"(broken)"}});
    CHECK(read_seed("empty_lines") == csv_records{{""}, {""}, {""}, {"", ""}, {""}});
}

TEST_CASE("a text of nothing but signs is no number, however long") {
    // The reader once called itself for each sign.
    CHECK(quantity::read_decimal(std::string(1'000'000, '+')).fault == quantity::decimal_fault::not_a_number);
}
