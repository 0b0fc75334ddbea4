#include "records/errors.hpp"
#include "render/workbook_check.hpp"
#include "render/workbook_file.hpp"
#include "workbook_parts.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;
using render::check_workbook;
using render::expected_sheet;

namespace {

/// A workbook of two sheets: three rows of two cells, and one cell.
class two_sheets {
  public:
    two_sheets() {
        render::workbook_file book{path(), {"Title", "", "", "2026-07-10T08:00:00Z", {}}};
        book.begin_sheet({"Rows", {10, 10}, 0, false, 0});
        for (std::uint32_t row = 0; row < 3; ++row) {
            book.text(row, 0, fmt::format("row {}", row));
            book.number(row, 1, row, render::look::count);
        }
        book.begin_sheet({"One", {10}, 0, false, 0});
        book.text(0, 0, "alone");
        book.finish();
    }
    [[nodiscard]] std::string path() const { return folder_.file("q.xlsx"); }
    [[nodiscard]] static std::vector<expected_sheet> expected() { return {{"Rows", 3, 6, 2}, {"One", 1, 1, 0}}; }
    /// The workbook with one part's text changed.
    template <class Change> std::string with_part(const std::string& part, Change&& change) const {
        auto parts = parts_of(path());
        change(parts.at(part));
        zip_parts(folder_.file("changed.xlsx"), parts);
        return folder_.file("changed.xlsx");
    }
    [[nodiscard]] std::string cut_to(std::size_t bytes) const {
        return folder_.write("cut.xlsx", bytes_in(path()).substr(0, bytes));
    }
    [[nodiscard]] const temporary_folder& folder() const { return folder_; }

  private:
    temporary_folder folder_;
};

std::string refusal_of(const std::string& path, const std::vector<expected_sheet>& expected = two_sheets::expected()) {
    return message_of<records::io_error>([&] { check_workbook(path, expected); });
}

const std::string first_sheet = "xl/worksheets/sheet1.xml";

} // namespace

TEST_CASE("a workbook that was written whole is found whole") {
    const two_sheets book;
    CHECK_NOTHROW(check_workbook(book.path(), two_sheets::expected()));
    CHECK_NOTHROW(check_workbook(book.with_part(first_sheet, [](std::string&) {}), two_sheets::expected()));
}

TEST_CASE("a truncated workbook is refused, wherever it is cut") {
    const two_sheets book;
    const auto size = bytes_in(book.path()).size();
    for (std::size_t kept = 0; kept < size; kept += 97) {
        CAPTURE(kept, size);
        CHECK_THROWS_AS(check_workbook(book.cut_to(kept), two_sheets::expected()), records::io_error);
    }
    for (std::size_t missing = 1; missing <= 30; ++missing) {
        CAPTURE(missing);
        CHECK_THROWS_AS(check_workbook(book.cut_to(size - missing), two_sheets::expected()), records::io_error);
    }
    CHECK_THAT(refusal_of(book.cut_to(size / 2)), Contains("was not written whole") && Contains("is the disk full?"));
}

TEST_CASE("a sheet that is cut short is refused, though its zip is sound") {
    const two_sheets book;
    CHECK_THAT(refusal_of(book.with_part(first_sheet, [](std::string& xml) { xml.resize(xml.find("</worksheet>")); })),
               Contains("sheet Rows"));
    CHECK_THAT(refusal_of(book.with_part(first_sheet,
                                         [](std::string& xml) {
                                             xml.erase(xml.find("<row r=\"3\""),
                                                       xml.find("</sheetData>") - xml.find("<row r=\"3\""));
                                         })),
               Contains("sheet Rows has 2 rows and 4 cells of 3 and 6"));
    CHECK_THAT(refusal_of(book.with_part(first_sheet,
                                         [](std::string& xml) {
                                             xml.erase(xml.find("<c r=\"B2\""),
                                                       xml.find("</row>", xml.find("<c r=\"B2\"")) -
                                                           xml.find("<c r=\"B2\""));
                                         })),
               Contains("3 rows and 5 cells of 3 and 6"));
}

TEST_CASE("a sheet that is missing or one too many is refused") {
    const two_sheets book;
    auto parts = parts_of(book.path());
    parts.erase("xl/worksheets/sheet2.xml");
    zip_parts(book.folder().file("less.xlsx"), parts);
    CHECK_THAT(refusal_of(book.folder().file("less.xlsx")), Contains("1 sheets of 2"));
    CHECK_THAT(refusal_of(book.path(), {{"Rows", 3, 6, 2}}), Contains("a sheet too many"));
}

TEST_CASE("a byte that changed inside a part is found by its checksum") {
    const two_sheets book;
    auto bytes = bytes_in(book.path());
    const auto name = bytes.find(first_sheet);
    REQUIRE(name != std::string::npos);
    bytes[name + first_sheet.size() + 40] = static_cast<char>(bytes[name + first_sheet.size() + 40] ^ 0x01);
    CHECK_THROWS_AS(check_workbook(book.folder().write("spoiled.xlsx", bytes), two_sheets::expected()),
                    records::io_error);
}

TEST_CASE("a file that is no workbook, or is not there, is refused") {
    const temporary_folder folder;
    CHECK_THAT(refusal_of(folder.write("q.xlsx", "ticket,net\nT1,110\n")), Contains("it is no zip file"));
    CHECK_THAT(refusal_of(folder.file("none.xlsx")), Contains("it is no zip file"));
}
