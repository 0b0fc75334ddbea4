#include "clerk.hpp"
#include "made_workbook.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;

namespace {

const char* const one_cost = "cost,date,category,description,amount,fund\nC91,2026-05-02,travel,van,12.50,grant\n";

/// The same row as a workbook, whose sheet has a name that a spreadsheet program gives.
made_workbook cost_book() {
    made_workbook book;
    book.sheet_name = "Sheet1";
    book.styles = "<xf numFmtId=\"0\"/><xf numFmtId=\"14\"/>";
    book.data = text_row(1, {"cost", "date", "category", "description", "amount", "fund"}) + "<row r=\"2\">" +
                text_cell("A2", "C91") + "<c r=\"B2\" s=\"1\"><v>46144</v></c>" + text_cell("C2", "travel") +
                text_cell("D2", "van") + "<c r=\"E2\"><v>12.5</v></c>" + text_cell("F2", "grant") + "</row>";
    return book;
}

struct folder_clerk : quiet_clerk {
    answered take(const std::vector<std::pair<std::string, std::string>>& files) {
        std::filesystem::create_directory(folder().file("more"));
        for (const auto& [name, text] : files)
            folder().write("more/" + name, text);
        return run({"intake", folder().file("more")});
    }
};

} // namespace

TEST_CASE("a misspelt file of a season's folder is told with the one that was meant", "[folder]") {
    folder_clerk at;
    const auto said = at.take(
        {{"costs.csv", one_cost}, {"tickts.csv", "x"}, {"Sites.csv", "x"}, {"scan.pdf", "x"}, {"notes.txt", "x"}});
    CHECK(said.code == cli::done);
    CHECK_THAT(said.out, Contains("costs.csv: 1 imported"));
    CHECK_THAT(said.err, Contains("tickts.csv is passed over") && Contains("did you mean tickets.csv?"));
    CHECK_THAT(said.err, Contains("Sites.csv is passed over") && Contains("did you mean sites.csv?"));
    CHECK_THAT(said.err, Contains("not a season's files, and passed over: notes.txt, scan.pdf\n"));
}

TEST_CASE("a folder with misspelt files alone is refused with the names that were meant", "[folder]") {
    folder_clerk at;
    const auto said = at.take({{"Costs.csv", one_cost}});
    CHECK(said.code == cli::bad_input);
    CHECK_THAT(said.err, Contains("holds none of a season's files") && Contains("did you mean costs.csv?"));
}

TEST_CASE("a kind that is not a season's is told how to take it in", "[folder]") {
    folder_clerk at;
    const auto said = at.take({{"costs.csv", one_cost}, {"settings.csv", "setting,from,value\n"}});
    CHECK_THAT(said.err,
               Contains("settings.csv is not taken in with a season; take it in by itself: tarewell intake settings"));
}

TEST_CASE("a season's folder may hold workbooks in place of CSV files, one of them", "[folder][xlsx]") {
    folder_clerk at;
    SECTION("the workbook") {
        const auto said = at.take({{"costs.xlsx", cost_book().bytes()}});
        CHECK_THAT(said.out, Contains("costs.xlsx!Sheet1: 1 imported"));
        CHECK_THAT(at.must({"list", "costs", "--csv"}), Contains("C91,2026-05-02,travel,van,,12.5,grant"));
    }
    SECTION("both") {
        const auto said = at.take({{"costs.xlsx", cost_book().bytes()}, {"costs.csv", one_cost}});
        CHECK(said.code == cli::bad_input);
        CHECK_THAT(said.err, Contains("are both there; leave one of them"));
    }
}

TEST_CASE("a file says by its name or header what it holds", "[folder][xlsx]") {
    folder_clerk at;
    CHECK_THAT(at.must({"intake", at.folder().write("costs.csv", one_cost)}), Contains("1 imported"));
    CHECK_THAT(at.must({"intake", at.folder().write("may.csv", one_cost)}), Contains("1 known already"));
    CHECK_THAT(at.must({"intake", at.folder().write("may.xlsx", cost_book().bytes())}), Contains("1 known already"));
    CHECK_THAT(at.must({"intake", "costs", at.folder().file("may.xlsx"), "--sheet", "sheet1"}),
               Contains("1 known already"));
    CHECK_THAT(at.run({"intake", "costs", at.folder().file("may.xlsx"), "--sheet", "June"}).err,
               Contains("may.xlsx:1:cost: the workbook has no sheet 'June'; its sheets are 'Sheet1'"));
    CHECK_THAT(at.run({"intake", at.folder().write("odd.csv", "a,b\n1,2\n")}).err,
               Contains("its headings are those of no kind of record"));
    const auto wrong = at.run({"intake", "cotss", at.folder().file("may.csv")});
    CHECK(wrong.code == cli::usage);
    CHECK_THAT(wrong.err, Contains("did you mean 'costs'?"));
    CHECK(at.run({"intake"}).code == cli::usage);
    CHECK(at.run({"intake", "costs"}).code == cli::usage);
}

TEST_CASE("what is wrong in a workbook is told by sheet and cell", "[xlsx]") {
    folder_clerk at;
    auto book = cost_book();
    book.data += "<row r=\"3\">" + text_cell("A3", "C92") + "<c r=\"B3\"><v>46144</v></c>" + text_cell("C3", "travel") +
                 text_cell("D3", "van") + "<c r=\"E3\" t=\"e\"><v>#REF!</v></c>" + text_cell("F3", "grant") +
                 "</row><row r=\"4\">" + text_cell("A4", "C93") + "<c r=\"B4\"><v>46144</v></c>" +
                 text_cell("C4", "travel") + text_cell("D4", "van") + "<c r=\"E4\"><f>1+1</f><v>2</v></c>" +
                 text_cell("F4", "grant") + "</row>";
    const auto said = at.run({"intake", at.folder().write("may.xlsx", book.bytes())});
    CHECK(said.code == cli::bad_input);
    CHECK_THAT(said.err,
               Contains("may.xlsx!Sheet1:E3:amount: shows the error #REF!; mend the formula, or write the value"));
    CHECK_THAT(said.err, Contains("may.xlsx!Sheet1:B4:date: '46144' is not written as a date"));
    CHECK_THAT(said.err, Contains("refused: 2 faults"));
}
