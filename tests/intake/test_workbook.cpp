#include "intake/workbook.hpp"
#include "made_workbook.hpp"

#include <catch2/catch.hpp>

// The format: ECMA-376 part 1 (SpreadsheetML), R2: as openpyxl and LibreOffice write it; tests/intake/check_xlsx holds
// the reader to files of both.

using namespace tarewell;
using namespace tarewell::tests;

namespace {

using rows_read = std::vector<std::string>;

/// Each row as "LINE: a|b|c", faults as "LINE/FIELD! what".
rows_read rows_of(const std::string& bytes) {
    const intake::workbook book{bytes};
    const auto rows = book.rows(book.sheets().front());
    rows_read found;
    intake::csv_record record;
    std::optional<intake::csv_fault> fault;
    while (rows->next(record, fault)) {
        if (fault) {
            found.push_back(fmt::format("{}! {}", rows->cell(fault->line, fault->field), fault->what));
            continue;
        }
        std::string text = std::to_string(record.line) + ": ";
        for (std::size_t i = 0; i < record.fields.size(); ++i)
            text += (i > 0 ? "|" : "") + std::string{record.fields[i]};
        found.push_back(text);
    }
    for (const auto& note : rows->notes())
        found.push_back("note: " + note);
    return found;
}

/// Row 2 of a sheet whose row 1 names columns a and b.
rows_read second_row(const std::string& cells, made_workbook book = {}) {
    book.data = text_row(1, {"a", "b"}) + "<row r=\"2\">" + cells + "</row>" + book.data;
    auto found = rows_of(book.bytes());
    REQUIRE(found.front() == "1: a|b");
    found.erase(found.begin());
    return found;
}

std::string cell_of(const std::string& inside, const std::string& attributes = "") {
    const auto found = second_row("<c r=\"A2\" " + attributes + ">" + inside + "</c>").front();
    return found;
}

std::string refusal_of(const std::string& bytes) {
    return message_of<intake::unreadable>([&] { rows_of(bytes); });
}

std::string shown_as(const std::string& code, const std::string& serial, const std::string& properties = "") {
    made_workbook book;
    book.formats = "<numFmt numFmtId=\"170\" formatCode=\"" + code + "\"/>";
    book.styles = "<xf numFmtId=\"0\"/><xf numFmtId=\"170\"/>";
    book.workbook_properties = properties;
    return second_row("<c r=\"A2\" s=\"1\"><v>" + serial + "</v></c>", book).front();
}

} // namespace

TEST_CASE("a sheet's texts come as they stand: shared, inline, rich, with their spaces", "[xlsx]") {
    made_workbook book;
    book.strings = "<si><t>Wend</t></si><si><r><t>Old </t></r><r><t>Creamery</t></r><rPh><t>no</t></rPh></si>"
                   "<si><t xml:space=\"preserve\"> S1 </t></si><si><t>a_x000A_b_x0041_ _x12</t></si>";
    CHECK(second_row("<c r=\"A2\" t=\"s\"><v>0</v></c><c r=\"B2\" t=\"s\"><v>1</v></c>", book) ==
          rows_read{"2: Wend|Old Creamery"});
    CHECK(second_row("<c r=\"A2\" t=\"s\"><v>2</v></c><c r=\"B2\" t=\"s\"><v>3</v></c>", book) ==
          rows_read{"2:  S1 |a\nbA _x12"});
    CHECK(second_row("<c r=\"A2\" t=\"inlineStr\"><is><r><t>R</t></r><r><t>é</t></r></is></c>") == rows_read{"2: Ré|"});
}

TEST_CASE("numbers have the digits that people see", "[xlsx]") {
    CHECK(cell_of("<v>0.30000000000000004</v>") == "2: 0.3|"); // C: 0.1 + 0.2 in doubles
    CHECK(cell_of("<v>228</v>") == "2: 228|");
    CHECK(cell_of("<v>-40</v>") == "2: -40|");
    CHECK(cell_of("<v>1.25E-3</v>") == "2: 0.00125|");
    CHECK(cell_of("<v>1.0000000000000001E5</v>") == "2: 100000|");
    CHECK(cell_of("<v>123456.789</v>") == "2: 123456.789|");
    CHECK(cell_of("<v>0</v>") == "2: 0|");
    CHECK(cell_of("<v>8.0000000000000002E-2</v>") == "2: 0.08|");
    CHECK(cell_of("<v>1E+300</v>") == "2: 1E+300|"); // no number of a season: its column's check refuses it
    CHECK(cell_of("<v>12x</v>") == "A2! holds '12x', which is no number");
    CHECK(cell_of("<v>1234567890123456</v>") ==
          "A2! holds 1234567890123456, and a spreadsheet keeps only 15 digits of a number");
    CHECK(shown_as("00000", "42") == "2: 00042|");
    CHECK(shown_as("0.00%", "0.2") == "A2! shows a percent and holds 0.2");
    CHECK(shown_as("#,##0.00 &quot;days&quot;", "1234.5") == "2: 1234.5|");
    CHECK(shown_as("[Red]0.0;\\d0", "7") == "2: 7|");
}

TEST_CASE("dates follow from serial, format and epoch", "[xlsx]") {
    // C: 46156 days after 1899-12-30 are 2026-05-14 (Python's datetime); 1462 less in the epoch of 1904.
    CHECK(shown_as("yyyy\\-mm\\-dd", "46156") == "2: 2026-05-14|");
    CHECK(shown_as("dd/mm/yy", "44694", "<workbookPr date1904=\"1\"/>") == "2: 2026-05-14|");
    CHECK(shown_as("[$-409]d\\-mmm\\-yy;@", "46156") == "2: 2026-05-14|");
    CHECK(shown_as("m/d/yyyy h:mm", "46156.395833333336") == "2: 2026-05-14 09:30|");
    CHECK(shown_as("h:mm", "0.35416666666666669") == "2: 08:30|");
    CHECK(shown_as("[h]:mm:ss", "0.5000115740740741") == "2: 12:00:01|");
    CHECK(shown_as("yyyy-mm-dd", "59") == "2: 1900-02-28|");
    CHECK(shown_as("yyyy-mm-dd", "60") == "A2! holds 60, which is no date though it has a date's format");
    CHECK(shown_as("yyyy-mm-dd", "61") == "2: 1900-03-01|");
    CHECK(shown_as("yyyy-mm-dd", "0", "<workbookPr date1904=\"1\"/>") == "2: 1904-01-01|");
    CHECK(shown_as("yyyy-mm-dd", "-1") == "A2! holds -1, which is no date though it has a date's format");
    CHECK(shown_as("yyyy-mm-dd", "2958465") == "2: 9999-12-31|");
    CHECK(shown_as("yyyy-mm-dd", "2958466") == "A2! holds 2958466, which is no date though it has a date's format");
    CHECK(shown_as("yyyy-mm-dd", "46156.999999999") == "2: 2026-05-15|"); // the nearest second
    made_workbook book;
    book.styles = "<xf numFmtId=\"0\"/><xf numFmtId=\"14\"/>";
    CHECK(
        second_row("<c r=\"A2\" s=\"1\"><v>46156.6</v></c>", book) ==
        rows_read{"2: 2026-05-14|", "note: 1 date holds a time of day that its format hides: the day was taken (A2)"});
    CHECK(cell_of("<v>2026-05-14T00:00:00</v>", "t=\"d\"") == "2: 2026-05-14|");
}

TEST_CASE("formulas give the value they were saved with, and one without is refused", "[xlsx]") {
    CHECK(second_row("<c r=\"A2\"><f>1+1</f><v>2</v></c><c r=\"B2\" t=\"str\"><f>\"x\"</f><v>x</v></c>") ==
          rows_read{"2: 2|x", "note: 2 cells hold formulas: the values they were saved with were taken (A2, B2)"});
    CHECK(cell_of("<f>1+1</f>") == "A2! holds a formula that was never worked out");
    CHECK(cell_of("<f>1/0</f><v>#DIV/0!</v>", "t=\"e\"") == "A2! shows the error #DIV/0!");
    CHECK(cell_of("<v>#REF!</v>", "t=\"e\"") == "A2! shows the error #REF!");
    CHECK(cell_of("<v>1</v>", "t=\"b\"") == "2: TRUE|");
}

TEST_CASE("merged cells are refused with their range, hidden rows and columns are told", "[xlsx]") {
    made_workbook book;
    book.data = text_row(1, {"a", "b"}) + text_row(2, {"1", "2"});
    book.after_data = "<mergeCells><mergeCell ref=\"A2:B2\"/></mergeCells>";
    CHECK(rows_of(book.bytes()) == rows_read{"1: a|b", "2: 1|2", "A2! cells A2:B2 are merged"});
    book.after_data.clear();
    book.before_data = "<cols><col min=\"2\" max=\"2\" hidden=\"1\"/></cols>";
    book.data = text_row(1, {"a", "b"}) + "<row r=\"2\" hidden=\"1\">" + text_cell("A2", "1") + "</row>";
    CHECK(rows_of(book.bytes()) ==
          rows_read{"1: a|b", "2: 1|", "note: 1 row is hidden and was taken like the others (2)",
                    "note: 1 column or group of columns is hidden and was taken like the others (B)"});
}

TEST_CASE("empty rows and what stands outside the header's columns", "[xlsx]") {
    made_workbook book;
    book.data = text_row(1, {"a", "b"}) + text_row(2, {"1", "2"}) + text_row(9, {"3", "4"}) +
                "<row r=\"10\"><c r=\"A10\" s=\"0\"/></row>";
    CHECK(rows_of(book.bytes()) == rows_read{"1: a|b", "2: 1|2", "3: ", "9: 3|4", "10: "});
    book.data = text_row(1, {"a", "b"}) + text_row(2, {"1", "2", "3"});
    CHECK(rows_of(book.bytes()) ==
          rows_read{"1: a|b", "C2! a value stands in column C, right of the last that has a name"});
    book.data = text_row(2, {"a", "b"});
    CHECK(refusal_of(book.bytes()) == "row 1 is empty");
    book.data = "";
    CHECK(refusal_of(book.bytes()) == "the sheet is empty");
    // Places may be left out (ECMA-376 part 1, 18.3.1.4): then each follows the one before.
    book.data = "<row><c t=\"inlineStr\"><is><t>a</t></is></c></row><row><c><v>5</v></c></row>";
    CHECK(rows_of(book.bytes()) == rows_read{"1: a", "2: 5"});
}

TEST_CASE("what is no .xlsx is told by what it is", "[xlsx]") {
    using Catch::Matchers::Contains;
    CHECK_THAT(refusal_of(""), Contains("empty"));
    CHECK_THAT(refusal_of("ticket,date\n"), Contains("no .xlsx workbook"));
    CHECK_THAT(refusal_of("<html></html>"), Contains("web page"));
    CHECK_THAT(refusal_of("\xD0\xCF\x11\xE0...."), Contains("old kind (.xls)"));
    std::string name;
    for (const char c : std::string{"EncryptedPackage"})
        (name += c) += '\0';
    CHECK_THAT(refusal_of("\xD0\xCF\x11\xE0...." + name), Contains("protected by a password"));
    CHECK_THAT(refusal_of(zipped({{"a.txt", "hello"}})), Contains("a zip file and no .xlsx"));
    CHECK_THAT(refusal_of("PK\x03\x04 cut short"), Contains("no list of its parts"));
    made_workbook binary;
    auto bytes = zipped({{"[Content_Types].xml", "<Types/>"},
                         {"_rels/.rels", "<Relationships><Relationship Id=\"r\" Type=\"x/officeDocument\" "
                                         "Target=\"xl/workbook.bin\"/></Relationships>"}});
    CHECK_THAT(refusal_of(bytes), Contains("of another kind than .xlsx (xl/workbook.bin)"));
}

TEST_CASE("macros and links to other workbooks are told and left alone", "[xlsx]") {
    made_workbook book;
    book.data = text_row(1, {"a"});
    book.more_relations =
        "<Relationship Id=\"r8\" Type=\"http://schemas.microsoft.com/office/2006/relationships/vbaProject\" "
        "Target=\"vbaProject.bin\"/><Relationship Id=\"r9\" Type=\"x/externalLink\" "
        "Target=\"externalLinks/externalLink1.xml\"/>";
    const auto bytes = book.bytes();
    const intake::workbook read{bytes};
    CHECK(read.notes() == std::vector<std::string>{
                              "the workbook holds macros: they are not run",
                              "the workbook links to others: they are not opened, values are those it was saved with"});
    // A sheet that would lie outside the file is not looked for.
    book.more_relations.clear();
    auto outside = made_workbook{};
    outside.data = text_row(1, {"a"});
    CHECK(rows_of(outside.bytes()) == rows_read{"1: a"});
}

TEST_CASE("a workbook made to do harm gets nowhere", "[xlsx]") {
    using Catch::Matchers::Contains;
    made_workbook book;
    book.data = text_row(1, {"a"});
    SECTION("a bomb of spaces") {
        book.after_data = std::string(std::size_t{40} << 20U, ' ');
        CHECK_THAT(refusal_of(book.bytes()), Contains("unpacks to more than 200 times its size"));
    }
    SECTION("entities that double") {
        book.doctype = "<!DOCTYPE x [<!ENTITY a \"aaaaaaaaaa\"><!ENTITY b \"&a;&a;&a;&a;\">]>";
        book.data = text_row(1, {"&b;"});
        CHECK_THAT(refusal_of(book.bytes()), Contains("declares a document type"));
    }
    SECTION("an entity of a file") {
        book.doctype = "<!DOCTYPE x [<!ENTITY a SYSTEM \"file:///etc/hostname\">]>";
        book.data = text_row(1, {"&a;"});
        CHECK_THAT(refusal_of(book.bytes()), Contains("declares a document type"));
    }
    SECTION("elements in elements") {
        for (int i = 0; i < 100; ++i)
            book.after_data = "<x>" + book.after_data + "</x>";
        CHECK_THAT(refusal_of(book.bytes()), Contains("elements more than 64 deep"));
    }
    SECTION("one endless tag") {
        std::string noise;
        for (unsigned i = 0; i < (3U << 20U); ++i)
            noise += static_cast<char>('a' + i * 2654435761U / 7 % 26);
        book.after_data = "<x a=\"" + noise + "\"/>";
        CHECK_THAT(refusal_of(book.bytes()), Contains("markup of more than 1 MB"));
    }
    SECTION("too many parts") {
        for (int i = 0; i < 4'200; ++i)
            book.more_parts.emplace_back("x/" + std::to_string(i), "");
        CHECK_THAT(refusal_of(book.bytes()), Contains("and a workbook has at most 4096"));
    }
    SECTION("a part twice") {
        book.more_parts.emplace_back("XL/Worksheets/sheet1.xml", "<x/>");
        CHECK_THAT(refusal_of(book.bytes()), Contains("stands twice"));
    }
    SECTION("a row beyond the sheet") {
        book.data += text_row(2'000'000, {"1"});
        CHECK_THAT(refusal_of(book.bytes()), Contains("comes after row 1"));
    }
    SECTION("rows that go back") {
        book.data += text_row(3, {"1"}) + text_row(2, {"1"});
        CHECK_THAT(refusal_of(book.bytes()), Contains("its row 2 comes after row 3"));
    }
    SECTION("a cell twice") {
        book.data += "<row r=\"2\">" + text_cell("A2", "1") + text_cell("A2", "2") + "</row>";
        CHECK_THAT(refusal_of(book.bytes()), Contains("a cell A2 out of place"));
    }
    SECTION("a column beyond the sheet") {
        book.data += "<row r=\"2\">" + text_cell("XFE2", "1") + "</row>";
        CHECK_THAT(refusal_of(book.bytes()), Contains("a cell XFE2 out of place"));
    }
    SECTION("a text that is not there") {
        book.data += "<row r=\"2\"><c r=\"A2\" t=\"s\"><v>7</v></c></row>";
        CHECK_THAT(refusal_of(book.bytes()), Contains("cell A2 names a text that is not there"));
    }
    SECTION("tags that do not match") {
        book.after_data = "</worksheet>";
        CHECK_THAT(refusal_of(book.bytes()), Contains("is damaged"));
    }
}

TEST_CASE("a workbook that lost or changed any byte is read, or refused in words", "[xlsx]") {
    made_workbook book;
    book.data = text_row(1, {"a", "b"}) + text_row(2, {"1", "2"});
    const auto bytes = book.bytes();
    const auto whole = rows_of(bytes);
    std::size_t refused = 0;
    const auto may_do = [&](const std::string& changed) {
        try {
            const auto found = rows_of(changed);
            CHECK(found == whole); // what changed was no part of the rows
        } catch (const intake::unreadable& wrong) {
            CHECK_FALSE(std::string{wrong.what()}.empty());
            CHECK_FALSE(wrong.right.empty());
            ++refused;
        }
    };
    for (std::size_t length = 0; length < bytes.size(); length += 7)
        may_do(bytes.substr(0, length));
    for (std::size_t at = 0; at < bytes.size(); at += 3) {
        auto changed = bytes;
        changed[at] = static_cast<char>(changed[at] ^ 0x15);
        may_do(changed);
    }
    CHECK(refused > bytes.size() / 4);
}

TEST_CASE("columns are lettered as a spreadsheet letters them", "[xlsx]") {
    CHECK(intake::column_letters(0) == "A");
    CHECK(intake::column_letters(25) == "Z");
    CHECK(intake::column_letters(26) == "AA");
    CHECK(intake::column_letters(16'383) == "XFD"); // ECMA-376's last column
}
