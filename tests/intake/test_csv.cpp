#include "intake/csv.hpp"

#include <catch2/catch.hpp>

using namespace std::string_literals;
using tarewell::intake::csv_fault;
using tarewell::intake::csv_field;
using tarewell::intake::csv_number;
using tarewell::intake::csv_reader;
using tarewell::intake::csv_record;
using tarewell::intake::fault_of_file;
using tarewell::intake::first_bad_byte;

namespace {

/// All records as text: "1:a|b" is line 1 with two fields, "3!0" a fault in line 3, field 0.
std::vector<std::string> read_all(std::string_view text) {
    csv_reader reader{text};
    csv_record record;
    std::optional<csv_fault> fault;
    std::vector<std::string> all;
    while (reader.next(record, fault)) {
        if (fault) {
            all.push_back(std::to_string(fault->line) + "!" + std::to_string(fault->field));
            continue;
        }
        std::string shown = std::to_string(record.line) + ":";
        for (const auto field : record.fields) {
            shown += field;
            shown += '|';
        }
        shown.pop_back();
        all.push_back(shown);
    }
    CHECK(reader.position() == text.size());
    return all;
}
using lines = std::vector<std::string>;

std::string what_of(std::string_view text) {
    const auto fault = fault_of_file(text);
    return fault ? fault->what : "";
}

} // namespace

TEST_CASE("records are set apart by line ends and fields by commas") {
    // RFC 4180, section 2.
    CHECK(read_all("a,b\nc,d\n") == lines{"1:a|b", "2:c|d"});
    CHECK(read_all("a,b\r\nc,d\r\n") == lines{"1:a|b", "2:c|d"});
    CHECK(read_all("a,b\nc,d") == lines{"1:a|b", "2:c|d"});
    CHECK(read_all("a,\n,b\n") == lines{"1:a|", "2:|b"});
    CHECK(read_all("a\n\nb\n") == lines{"1:a", "2:", "3:b"});
    CHECK(read_all("").empty());
}

TEST_CASE("a byte order mark is passed over, and only at the beginning") {
    CHECK(read_all("\xEF\xBB\xBF"
                   "a,b\n") == lines{"1:a|b"});
    CHECK(read_all("\xEF\xBB\xBF\"a\",b\n") == lines{"1:a|b"});
    CHECK(read_all("a\n\xEF\xBB\xBF"
                   "b\n") == lines{"1:a", "2:\xEF\xBB\xBF"
                                          "b"});
}

TEST_CASE("spaces are data") {
    CHECK(read_all(" a , b\t\n") == lines{"1: a | b\t"});
    CHECK(read_all("\" a \"\n") == lines{"1: a "});
}

TEST_CASE("a quoted field holds commas, doubled quotes and line ends") {
    CHECK(read_all("\"a,b\",c\n") == lines{"1:a,b|c"});
    CHECK(read_all("\"say \"\"film\"\"\",c\n") == lines{"1:say \"film\"|c"});
    CHECK(read_all("\"\"\"\",\"\"\n") == lines{"1:\"|"});
    CHECK(read_all("\"a\"\"\"\n") == lines{"1:a\""});
    CHECK(read_all("\"a\r\nb\"\r\nc") == lines{"1:a\r\nb", "3:c"});
}

TEST_CASE("a record's line is where it begins, whatever line ends its values hold") {
    CHECK(read_all("h,i\n\"1\n2\n3\",x\n\"4\n\"\"5\",y\nz,z\n") ==
          lines{"1:h|i", "2:1\n2\n3|x", "5:4\n\"5|y", "7:z|z"});
}

TEST_CASE("what breaks the form is a fault in its line and field, and reading goes on with the next line") {
    CHECK(read_all("a,b\nx,y\"z\nc,d\n") == lines{"1:a|b", "2!1", "3:c|d"});
    CHECK(read_all("a,b\nx\"y,z\nc,d\n") == lines{"1:a|b", "2!0", "3:c|d"});
    CHECK(read_all("a,b\n\"x\"y,z\nc,d\n") == lines{"1:a|b", "2!0", "3:c|d"});
    CHECK(read_all("a,b\nx,\"y\" \nc,d\n") == lines{"1:a|b", "2!1", "3:c|d"});
    CHECK(read_all("a,b\nx\ry,z\nc,d\n") == lines{"1:a|b", "2!0", "3:c|d"});
    CHECK(read_all("a,b\nx,\"y\"\rz\nc,d\n") == lines{"1:a|b", "2!1", "3:c|d"});
    CHECK(read_all("a,b\nx,y\r") == lines{"1:a|b", "2!1"});
}

TEST_CASE("a quote that is not closed is a fault where its record begins and swallows nothing silently") {
    CHECK(read_all("a,b\nc,\"d\ne,f\ng,h\n") == lines{"1:a|b", "2!1"});
    CHECK(read_all("\"") == lines{"1!0"});
    CHECK(read_all("a,\"b\"\"") == lines{"1!1"});
}

TEST_CASE("a fault after a value of several lines keeps the count of lines") {
    CHECK(read_all("\"1\n2\",x\"y\nz\n") == lines{"1!1", "3:z"});
}

TEST_CASE("files that are no CSV are told by their beginning") {
    CHECK(what_of("") == "the file is empty");
    CHECK(what_of("\xEF\xBB\xBF") == "the file is empty");
    CHECK(what_of("PK\x03\x04rest of it") == "the file is a spreadsheet (or another zip file), not CSV");
    CHECK(what_of("\xD0\xCF\x11\xE0\xA1") == "the file is an old spreadsheet, not CSV");
    CHECK(what_of("%PDF-1.7\n") == "the file is a PDF, not CSV");
    CHECK(what_of("\xFF\xFE"s + "a\0,\0"s) == "the file is UTF-16, not UTF-8");
    CHECK(what_of("\xFE\xFF"s + "\0a\0,"s) == "the file is UTF-16, not UTF-8");
    CHECK(what_of("a\0,\0b\0\n\0"s) == "the file is UTF-16, not UTF-8");
    CHECK(what_of("\0a\0,\0b"s) == "the file is UTF-16, not UTF-8");
    CHECK(what_of("a,b\rc,d\r") == "lines end in a carriage return alone");
    CHECK(what_of("a,b\n").empty());
    CHECK(what_of("a,b").empty());
    CHECK(what_of("\xEF\xBB\xBF"
                  "a,b\r\n")
              .empty());
}

TEST_CASE("well-formed UTF-8 of every length is clean") {
    CHECK(first_bad_byte("plain\ttext\r\n") == std::string_view::npos);
    // from memory: Unicode, table 3-7: the first and last of each length, and the ends around the surrogates.
    for (const auto* good : {"\x7F", "\xC2\x80", "\xDF\xBF", "\xE0\xA0\x80", "\xED\x9F\xBF", "\xEE\x80\x80",
                             "\xEF\xBF\xBD", "\xF0\x90\x80\x80", "\xF4\x8F\xBF\xBF"}) {
        CAPTURE(good);
        CHECK(first_bad_byte(good) == std::string_view::npos);
    }
}

TEST_CASE("ill-formed UTF-8 of every class is found at its byte") {
    struct bad {
        const char* what;
        std::string text;
    };
    const auto each = GENERATE(bad{"a continuation alone", "\x80"}, bad{"overlong of two", "\xC0\xAF"},
                               bad{"overlong of two, C1", "\xC1\xBF"}, bad{"overlong of three", "\xE0\x9F\xBF"},
                               bad{"overlong of four", "\xF0\x8F\xBF\xBF"}, bad{"a surrogate", "\xED\xA0\x80"},
                               bad{"the last surrogate", "\xED\xBF\xBF"}, bad{"past U+10FFFF", "\xF4\x90\x80\x80"},
                               bad{"F5", "\xF5\x80\x80\x80"}, bad{"FF", "\xFF"}, bad{"cut short, two", "\xC3"},
                               bad{"cut short, three", "\xE2\x82"}, bad{"cut short, four", "\xF0\x9F\x98"},
                               bad{"no continuation", "\xC3("}, bad{"Latin-1", "\xE4pfel"},
                               bad{"U+FFFE", "\xEF\xBF\xBE"}, bad{"U+FFFF", "\xEF\xBF\xBF"});
    CAPTURE(each.what);
    CHECK(first_bad_byte(each.text) == 0);
    CHECK(first_bad_byte("ab\xC3\xA4" + each.text) == 4);
}

TEST_CASE("control characters but tab and line ends are found") {
    for (int byte = 0; byte < 0x20; ++byte) {
        CAPTURE(byte);
        const std::string text = "ab"s + static_cast<char>(byte) + "c";
        const bool allowed = byte == '\t' || byte == '\n' || byte == '\r';
        CHECK(first_bad_byte(text) == (allowed ? std::string_view::npos : 2));
    }
}

TEST_CASE("a field that we write is quoted where it must be and never the start of a formula") {
    CHECK(csv_field("plain") == "plain");
    CHECK(csv_field("") == "");
    CHECK(csv_field("a,b") == "\"a,b\"");
    CHECK(csv_field("say \"film\"") == "\"say \"\"film\"\"\"");
    CHECK(csv_field("two\nlines") == "\"two\nlines\"");
    CHECK(csv_field("=1+1") == "'=1+1");
    CHECK(csv_field("+1") == "'+1");
    CHECK(csv_field("-1") == "'-1");
    CHECK(csv_field("@SUM(A1)") == "'@SUM(A1)");
    CHECK(csv_field("\t=1") == "'\t=1");
    CHECK(csv_field("=A1,\"x\"") == "\"'=A1,\"\"x\"\"\"");
    CHECK(csv_field("a=1") == "a=1");
    CHECK(csv_number("-3.20") == "-3.20");
}

TEST_CASE("what we write reads back as it was") {
    for (const auto* text : {"plain", "a,b", "\"", "\"\"", "two\r\nlines", " spaces ", ""}) {
        const auto line = csv_field(text) + ",end\n";
        csv_reader reader{line};
        csv_record record;
        std::optional<csv_fault> fault;
        REQUIRE(reader.next(record, fault));
        REQUIRE(record.fields.size() == 2);
        CHECK(record.fields[0] == text);
    }
}
