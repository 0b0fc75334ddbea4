#include "render/sheet_edit.hpp"

#include "intake/row_reader.hpp"
#include "render/form_places.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::render;

namespace {

cell_place at(const char* name) { return *read_cell_place(name); }
std::string edited(std::string_view xml, const std::map<cell_place, cell_content>& cells) {
    return with_cells(xml, cells, "sheet");
}

} // namespace

TEST_CASE("cells are written where they stand, in their own look, and all else stays byte for byte", "[fill]") {
    const std::string_view sheet =
        "<worksheet><cols><col min=\"4\" max=\"6\" style=\"9\"/></cols><sheetData>\n"
        "<row r=\"2\" spans=\"1:3\"><c r=\"B2\" s=\"3\" t=\"s\"><v>7</v></c> <c r=\"D2\"/></row>\n"
        "<row r=\"5\" s=\"4\" customFormat=\"1\"/></sheetData><!-- end --></worksheet>";
    CHECK(edited(sheet, {}) == sheet);
    CHECK(edited(sheet, {{at("B2"), written_number{"1.5"}}}) ==
          "<worksheet><cols><col min=\"4\" max=\"6\" style=\"9\"/></cols><sheetData>\n"
          "<row r=\"2\" spans=\"1:3\"><c r=\"B2\" s=\"3\"><v>1.5</v></c> <c r=\"D2\"/></row>\n"
          "<row r=\"5\" s=\"4\" customFormat=\"1\"/></sheetData><!-- end --></worksheet>");
    // Before, between, behind; a row between two, one that was closed at once, one at the end.
    const auto many = edited(sheet, {{at("A1"), written_number{"1"}},
                                     {at("A2"), written_number{"2"}},
                                     {at("C2"), std::string{"=1+1 <&> \"x\""}},
                                     {at("E2"), written_number{"3"}},
                                     {at("D3"), written_number{"4"}},
                                     {at("B5"), std::monostate{}},
                                     {at("C5"), written_number{"5"}},
                                     {at("E9"), written_number{"6"}}});
    CHECK(many ==
          "<worksheet><cols><col min=\"4\" max=\"6\" style=\"9\"/></cols><sheetData>\n"
          "<row r=\"1\"><c r=\"A1\"><v>1</v></c></row>"
          "<row r=\"2\" spans=\"1:3\"><c r=\"A2\"><v>2</v></c><c r=\"B2\" s=\"3\" t=\"s\"><v>7</v></c> <c r=\"C2\" "
          "t=\"inlineStr\"><is><t xml:space=\"preserve\">=1+1 &lt;&amp;&gt; &quot;x&quot;</t></is></c><c r=\"D2\"/>"
          "<c r=\"E2\" s=\"9\"><v>3</v></c></row>\n"
          "<row r=\"3\"><c r=\"D3\" s=\"9\"><v>4</v></c></row>"
          "<row r=\"5\" s=\"4\" customFormat=\"1\"><c r=\"B5\" s=\"4\"/><c r=\"C5\" s=\"4\"><v>5</v></c></row>"
          "<row r=\"9\"><c r=\"E9\" s=\"9\"><v>6</v></c></row></sheetData><!-- end --></worksheet>");
    CHECK(contents_of(many, "sheet").at(at("C2")) == "=1+1 <&> \"x\"");
}

TEST_CASE("a sheet without rows, of another prefix, or whose cells have no names is filled, too", "[fill]") {
    CHECK(
        edited("<x:worksheet xmlns:x=\"u\"><x:sheetData/></x:worksheet>", {{at("B1"), written_number{"1"}}}) ==
        "<x:worksheet xmlns:x=\"u\"><x:sheetData><x:row r=\"1\"><x:c r=\"B1\"><x:v>1</x:v></x:c></x:row></x:sheetData>"
        "</x:worksheet>");
    CHECK(edited("<w><sheetData><row><c><v>1</v></c><c><v>2</v></c></row></sheetData></w>",
                 {{at("B1"), written_number{"9"}}}) ==
          "<w><sheetData><row><c><v>1</v></c><c r=\"B1\"><v>9</v></c></row></sheetData></w>");
    CHECK_THROWS_AS(edited("<w><sheetData><row r=\"2\"/><row r=\"1\"/></sheetData></w>", {}), intake::unreadable);
    CHECK_THROWS_AS(edited("<w><sheetData><row r=\"2\"><c r=\"B2\"/><c r=\"A2\"/></row></sheetData></w>", {}),
                    intake::unreadable);
    CHECK_THROWS_AS(edited("<w/>", {{at("A1"), written_number{"1"}}}), intake::unreadable);
}

TEST_CASE("what a formula came to before is taken out", "[fill]") {
    CHECK(edited("<w><sheetData><row r=\"1\"><c r=\"A1\"><f>B1*2</f><v>7</v></c><c "
                 "r=\"B1\"><v>7</v></c></row></sheetData></w>",
                 {{at("B1"), written_number{"9"}}}) ==
          "<w><sheetData><row r=\"1\"><c r=\"A1\"><f>B1*2</f></c><c r=\"B1\"><v>9</v></c></row></sheetData></w>");
}

TEST_CASE("formulas, what they fill, and merged cells are known", "[fill]") {
    const auto shape =
        shape_of("<w><sheetData><row r=\"1\"><c r=\"A1\"><f>1</f></c><c r=\"B1\"><f t=\"array\" ref=\"B1:B3\">x</f>"
                 "</c></row></sheetData><mergeCells><mergeCell ref=\"D4:F6\"/></mergeCells></w>",
                 "sheet");
    CHECK(shape.is_computed(at("A1")));
    CHECK(shape.is_computed(at("B3")));
    CHECK_FALSE(shape.is_computed(at("B4")));
    CHECK(shape.shown(at("F5")) == at("D4"));
    CHECK(shape.shown(at("G5")) == at("G5"));
}

TEST_CASE("a name's reference is a cell or an area of one sheet, or nothing", "[fill]") {
    const auto place = read_reference("'Bob''s form'!$B$5:$XFD$1048576");
    REQUIRE(place);
    CHECK(place->sheet == "Bob's form");
    CHECK(text_of(place->area.from) == "B5");
    CHECK(text_of(place->area.to) == "XFD1048576");
    for (const char* none : {"", "0.25", "#REF!", "Sheet1!#REF!", "Sheet1!$A$0", "Sheet1!$XFE$1", "Sheet1!$A$1048577",
                             "Sheet1!$A$1,Sheet1!$B$2", "SUM(Sheet1!$A$1)", "[1]Other!$A$1", "'[x.xlsx]S'!$A$1",
                             "Sheet1:Sheet2!$A$1", "Sheet1!$B$2:$A$1", "Sheet1!A", "'Bob's'!A1"}) {
        CAPTURE(none);
        CHECK_FALSE(read_reference(none));
    }
}

TEST_CASE("a workbook asks for its formulas to be reckoned, whatever it said before", "[fill]") {
    const auto asked = [](std::string_view xml) { return with_calculation(xml, terms_of_workbook(xml, "workbook")); };
    CHECK(asked("<workbook><sheets/><calcPr calcId=\"1\"/></workbook>") ==
          "<workbook><sheets/><calcPr fullCalcOnLoad=\"1\" calcId=\"1\"/></workbook>");
    CHECK(asked("<workbook><sheets/><calcPr fullCalcOnLoad='0'/></workbook>") ==
          "<workbook><sheets/><calcPr fullCalcOnLoad='1'/></workbook>");
    CHECK(asked("<x:workbook xmlns:x=\"u\"><x:sheets></x:sheets><x:definedNames/><x:extLst/></x:workbook>") ==
          "<x:workbook xmlns:x=\"u\"><x:sheets></x:sheets><x:definedNames/><x:calcPr "
          "fullCalcOnLoad=\"1\"/><x:extLst/></x:workbook>");
}
