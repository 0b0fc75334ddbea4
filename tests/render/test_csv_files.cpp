#include "terminal.hpp"
#include "intake/csv.hpp"
#include "reckoned_season.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <filesystem>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;
namespace fs = std::filesystem;

namespace {

using csv_rows = std::vector<std::vector<std::string>>;

csv_rows rows_in(const std::string& path) {
    const auto text = bytes_in(path);
    intake::csv_reader reader{text};
    intake::csv_record record;
    std::optional<intake::csv_fault> fault;
    csv_rows rows;
    while (reader.next(record, fault)) {
        if (fault) throw std::runtime_error(path + " is no CSV");
        rows.emplace_back(record.fields.begin(), record.fields.end());
    }
    return rows;
}

std::size_t folders_and_files(const std::string& folder) {
    return static_cast<std::size_t>(std::distance(fs::directory_iterator{folder}, fs::directory_iterator{}));
}

} // namespace

TEST_CASE("a workbook's CSV folder has a file for each sheet with a table, and figures.csv") {
    const sample_desk desk;
    const auto out = desk.file("out");
    (void)desk.done({"report", "quarter_summary", "2026-Q2", out, "--csv"});
    const auto whole = nlohmann::json::parse(bytes_in([&] {
        (void)desk.done({"report", "quarter_summary", "2026-Q2", desk.file("q.json"), "--json"});
        return desk.file("q.json");
    }()));
    std::size_t tables = 0;
    for (const auto& sheet : whole["sheets"]) {
        if (!sheet.contains("columns")) continue;
        ++tables;
        auto name = sheet["name"].get<std::string>();
        for (auto& c : name)
            c = std::isalnum(static_cast<unsigned char>(c)) != 0 ? static_cast<char>(std::tolower(c)) : '_';
        INFO(name);
        const auto rows = rows_in(out + "/" + name + ".csv");
        REQUIRE(rows.size() == sheet["rows"].size() + 1);
        for (std::size_t c = 0; c < rows.front().size(); ++c)
            CHECK(rows.front()[c] == sheet["columns"][c]["heading"]);
        for (const auto& row : rows)
            CHECK(row.size() == rows.front().size());
    }
    CHECK(folders_and_files(out) == tables + 1);
    const auto figures = rows_in(out + "/figures.csv");
    REQUIRE(figures.size() == whole["figures"].size() + 1);
    CHECK(figures.front() == std::vector<std::string>{"name", "value", "unit", "evidence", "meaning", "reason"});
    for (const auto& row : figures)
        if (row.front() == "bale_net_weight") CHECK(row[1] == "8934.394");
    CHECK_THAT(bytes_in(out + "/bales.csv"), Contains("\r\n"));
}

TEST_CASE("a page's CSV folder has the lists that the page uses, with exact values") {
    const sample_desk desk;
    (void)desk.done({"report", "cost_lines.mustache", "2026-Q2", desk.file("money"), "--csv"});
    for (const auto* list : {"costs", "figures", "in_kind", "money"}) {
        INFO(list);
        CHECK(fs::exists(desk.file(fmt::format("money/{}.csv", list))));
    }
    CHECK_FALSE(fs::exists(desk.file("money/bundles.csv"))); // the page does not use them
    const auto money = rows_in(desk.file("money/money.csv"));
    CHECK(money.front().front() == "category");
    CHECK(money.size() > 5);
    (void)desk.done({"report", "grower_statement", "2026-Q2", desk.file("grower"), "--csv", "--grower", "G003"});
    const auto bundles = rows_in(desk.file("grower/grower_sheet_bundles.csv"));
    CHECK(bundles.front().front() == "bundle");
    CHECK(bundles.size() > 1);
    (void)desk.done({"report", "auditor_tieout.mustache", "2026-Q2", desk.file("tie"), "--csv"});
    CHECK(rows_in(desk.file("tie/tie_out.csv")).size() == rows_in(desk.file("tie/figures.csv")).size());
}

TEST_CASE("a CSV folder stands whole or not at all") {
    const sample_desk desk;
    fs::create_directory(desk.file("there"));
    const auto before = folders_and_files(desk.folder().path());
    const auto said = desk.tell({"report", "quarter_summary", "2026-Q2", desk.file("there"), "--csv"});
    CHECK(said.code == cli::bad_input);
    CHECK_THAT(said.err, Contains("is there already"));
    CHECK(folders_and_files(desk.folder().path()) == before);
    const auto wrong = desk.folder().write(
        "mine.layout.toml", "says = \"M.\"\ntitle = \"T\"\n[[sheet]]\nname = \"A/B\"\nkind = \"terms\"\n");
    for (const auto* how : {"--csv", "--json"}) {
        const auto refused =
            desk.tell({"report", "mine", "2026-Q2", desk.file("none"), how, "--templates", desk.folder().path()});
        CHECK(refused.code == cli::bad_input);
        CHECK_THAT(refused.err, Contains("mine.layout.toml:4:name:") && Contains("nothing was written"));
        CHECK_FALSE(fs::exists(desk.file("none")));
    }
    CHECK(desk.tell({"report", "check", wrong}).code == cli::bad_input);
    CHECK(desk.tell({"report", "quarter_summary", "2026-Q2", desk.file("none"), "--csv", "--json"}).code ==
          cli::bad_input);
    CHECK_FALSE(fs::exists(desk.file("none")));
}

TEST_CASE("who prepared, reviewed and certified a closed quarter stands on its summary") {
    const sample_desk desk;
    const auto lines = [&] {
        (void)desk.done({"report", "quarter_summary", "2026-Q2", desk.file("q.json"), "--json"});
        return nlohmann::json::parse(bytes_in(desk.file("q.json")))["sheets"][0]["lines"].dump();
    };
    CHECK_THAT(lines(), Contains("not closed") && !Contains("Certified by"));
    REQUIRE(desk.close("2026-Q2").code == cli::done);
    CHECK_THAT(lines(), Contains(R"({"label":"Prepared by","text":"Maud Ellery"})") &&
                            Contains(R"({"label":"Reviewed by","text":"Dell Rourke"})") &&
                            Contains(R"({"label":"Certified by","text":"Odile Fenn"})") && !Contains("not closed"));
}
