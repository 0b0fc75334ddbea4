#include "base_season.hpp"
#include "figures/audit_figures.hpp"
#include "figures/breakdowns.hpp"
#include "figures/second_sums.hpp"
#include "render/form_names.hpp"
#include "render/forms.hpp"
#include "render/page_data.hpp"

#include <catch2/catch.hpp>

#include <nlohmann/json.hpp>
#include <regex>

#include <functional>

using namespace tarewell;

namespace {

/// The sample season or the base season, and a quarter of it.
struct seen_quarter {
    figures::period_view view;
    render::report_marks marks;
    std::vector<figures::table> tables;

    seen_quarter(const ledger::ledger_file& file, const char* quarter)
        : view{figures::view_period(file, *quantity::read_period(quarter), file.head().seq)},
          marks{ledger::hex(file.head().hash), file.head().at}, tables{figures::evidence_tables(
                                                                    view.season, view.reckoning, view.report.basis,
                                                                    false)} {
        figures::add_statistics(view.report, view.season, view.reckoning);
    }

    [[nodiscard]] render::page_input input() const { return {view.report, view.season, view.reckoning, marks}; }
    [[nodiscard]] std::string page(const std::string& form = "quarter_page") const {
        const render::form_shelf shelf;
        return shelf.fill(shelf.need(form), input());
    }
};

struct sample_season {
    tests::temporary_folder folder;
    ledger::ledger_file file = ledger::ledger_file::create(folder.file("sample.tarewell"));
    sample_season() {
        intake::take_season(file, tests::source_path("sample_data/season"), tests::standing_still(), {});
    }
};

} // namespace

TEST_CASE("The page shows every figure's exact value and links it by name") {
    const sample_season sample;
    for (const char* quarter : {"2026-Q2", "2026-Q3"}) {
        const seen_quarter seen{sample.file, quarter};
        const auto page = seen.page();
        for (const auto& each : seen.view.report.figures) {
            INFO(each.name);
            const auto at = page.find("<tr id=\"figure-" + each.name + "\">");
            REQUIRE(at != std::string::npos);
            const auto row = page.substr(at, page.find("</tr>", at) - at);
            const auto exact = figures::text_of(each.value);
            CHECK((row.find("<data value=\"" + exact + "\">") != std::string::npos) == !exact.empty());
            CHECK((row.find("<data") == std::string::npos) == exact.empty());
            CHECK(row.find(each.name) != std::string::npos);
            const auto rows = std::to_string(each.rows);
            if (rows.size() < 4) CHECK(row.find("<td class=\"n\">" + rows + "</td>") != std::string::npos);
        }
        CHECK(page.find(seen.marks.head_hash) != std::string::npos);
    }
}

TEST_CASE("The page is one file: no script, no network, one h1") {
    const sample_season sample;
    const auto page = seen_quarter{sample.file, "2026-Q3"}.page();
    for (const char* never : {"<script", "<link", "src=", "@import", "url(http", "javascript:", "{{", "}}}"}) {
        INFO(never);
        CHECK(page.find(never) == std::string::npos);
    }
    CHECK(page.find("<h1") == page.rfind("<h1"));
    CHECK(page.starts_with("<!DOCTYPE html>"));
    CHECK(page.find("<html lang=\"en-US\">") != std::string::npos);
}

TEST_CASE("The same ledger gives the same bytes of every form") {
    const sample_season sample;
    const seen_quarter once{sample.file, "2026-Q3"}, again{sample.file, "2026-Q3"};
    for (const auto& each : render::form_shelf{}.all()) {
        if (each.name == "site_thanks" || each.name == "grower_statement") continue;
        CHECK(once.page(each.name) == again.page(each.name));
    }
}

TEST_CASE("The data of a form holds the names that are promised, and no other") {
    const sample_season sample;
    const seen_quarter seen{sample.file, "2026-Q3"};
    auto input = seen.input();
    input.with_names = true;
    input.site = seen.view.season.find_site("S01");
    input.grower = seen.view.season.find_grower("G001");
    input.adjusted.emplace_back();
    const auto data = nlohmann::ordered_json::parse(render::page_data(input, {}).json());
    const std::function<void(const nlohmann::ordered_json&, const render::form_name&, const std::string&)> compare =
        [&](const auto& group, const auto& names, const std::string& path) {
            INFO(path);
            for (const auto& each : names.inside) {
                INFO(each.name);
                REQUIRE(group.contains(each.name));
                const auto& value = group[each.name];
                using enum render::name_kind;
                if (each.kind == yes_no) CHECK(value.is_boolean());
                if (each.kind == text) CHECK((value.is_string() || value.is_null()));
                if (each.kind == markup) CHECK(value.is_string());
                if (each.kind == render::name_kind::group) compare(value, each, path + each.name + ".");
                if (each.kind == list) {
                    REQUIRE(value.is_array());
                    for (const auto& item : value)
                        compare(item, each, path + each.name + "[].");
                }
            }
            CHECK(group.size() == names.inside.size());
        };
    compare(data, render::all_form_names(), "");
}

TEST_CASE("Names with < & and quotes are text in the page") {
    tests::base_season basin;
    basin.folder().write("sites.csv", "site,name,town\nS1,\"<b>Old & \"\"New\"\"</b>\",Wend\nS2,O'Fee lot,Aldwend\n");
    basin.take_all();
    const seen_quarter seen{basin.ledger(), "2026-Q2"};
    const auto page = seen.page();
    CHECK(page.find("<b>Old") == std::string::npos);
    CHECK(page.find("&lt;b&gt;Old &amp; &quot;New&quot;&lt;/b&gt;") != std::string::npos);
    CHECK(page.find("O&#39;Fee lot") != std::string::npos);
}

TEST_CASE("Growers stand by id alone unless names are asked for") {
    tests::base_season basin;
    basin.take_all();
    const seen_quarter seen{basin.ledger(), "2026-Q2"};
    const render::form_shelf shelf;
    CHECK(seen.page().find("Ruth Ames") == std::string::npos);
    auto input = seen.input();
    input.with_names = true;
    CHECK(shelf.fill(shelf.need("quarter_page"), input).find("Ruth Ames") != std::string::npos);
    input.grower = seen.view.season.find_grower("G1");
    CHECK(shelf.fill(shelf.need("grower_statement"), input).find("Hollow Farm") != std::string::npos);
}

TEST_CASE("An erased grower's statement keeps the weights and says that the name is erased") {
    tests::base_season basin;
    basin.take_all();
    seen_quarter seen{basin.ledger(), "2026-Q2"};
    for (auto& each : seen.view.season.growers)
        if (each.id.text() == "G1") each.erased = true;
    auto input = seen.input();
    input.with_names = true;
    input.grower = seen.view.season.find_grower("G1");
    const render::form_shelf shelf;
    const auto statement = shelf.fill(shelf.need("grower_statement"), input);
    CHECK(statement.find("(erased on request)") != std::string::npos);
    CHECK(statement.find("Ruth Ames") == std::string::npos);
    CHECK(statement.find("Hollow Farm") == std::string::npos);
    CHECK(statement.find("57.600") != std::string::npos);
}

TEST_CASE("A form about a site or a grower says what is missing") {
    tests::base_season basin;
    basin.take_all();
    const seen_quarter seen{basin.ledger(), "2026-Q2"};
    CHECK(tests::message_of<records::input_error>([&] { static_cast<void>(seen.page("site_thanks")); }).find("--site") !=
          std::string::npos);
    CHECK(tests::message_of<records::input_error>([&] {
              static_cast<void>(seen.page("grower_statement"));
          }).find("--grower") != std::string::npos);
}

TEST_CASE("A quarter before anything was taken in still has its page") {
    tests::base_season basin;
    basin.take_all();
    for (const char* quarter : {"2025-Q1", "2026-Q1", "2030-Q4"}) {
        const auto page = seen_quarter{basin.ledger(), quarter}.page();
        CHECK(page.find("There is nothing to draw") != std::string::npos);
        CHECK_FALSE(std::regex_search(page, std::regex{"\\b(nan|inf)\\b"}));
    }
}

TEST_CASE("Breakdowns sum to their figures") {
    const sample_season sample;
    for (const char* quarter : {"2026-Q2", "2026-Q3", "2026-Q4", "2026", "final"}) {
        const seen_quarter seen{sample.file, quarter};
        const auto& report = seen.view.report;
        const auto value = [&](const char* name) { return report.find(name)->value; };
        const auto months = figures::by_month(seen.view.season, seen.view.reckoning, report.basis);
        CHECK(quantity::short_tons(months.back().diverted_to_date, quantity::weight_unit::lb) ==
              std::get<figures::real>(value("diverted_tons_to_date")));
        std::int64_t bundles = 0;
        quantity::weight residue;
        for (const auto& each : figures::reject_causes(seen.view.season, seen.view.reckoning, report.basis.days)) {
            bundles += each.bundles;
            residue += each.residue;
        }
        CHECK(figures::value{bundles} == value("rejected_bundles"));
        CHECK(figures::value{residue} == value("residue_weight"));
        const auto by_class = figures::money_by_category(seen.view.season, report.basis);
        const auto& money = by_class.total;
        const auto cents = [&](const char* name) { return std::get<quantity::money>(value(name)); };
        CHECK(money.grant_spent == cents("grant_spent_to_date") + cents("indirect_to_date"));
        CHECK(money.grant_in_quarter == cents("grant_spent") + cents("indirect_claimed"));
        CHECK(money.grant_left() == cents("grant_left"));
        CHECK(money.match_given + by_class.unclassed.match_given == cents("match_to_date"));
        CHECK(money.match_in_quarter + by_class.unclassed.match_in_quarter == cents("match_given"));
    }
}

TEST_CASE("months to come are left out of a year, and none in which anything counts") {
    sample_season sample;
    const auto months_of = [&](const char* period) {
        const seen_quarter seen{sample.file, period};
        return figures::by_month(seen.view.season, seen.view.reckoning, seen.view.report.basis);
    };
    CHECK(quantity::text_of(months_of("final").back().days.to) == "2026-09-30");
    CHECK(quantity::text_of(months_of("2026-Q4").back().days.to) == "2026-12-31");
    const auto before = months_of("final").back().diverted_to_date;
    // A reject alone moves what was diverted, in its own month.
    intake::record(sample.file, records::kind::reject,
                   {{"reject", "J900"}, {"date", "2026-12-03"}, {"stage", "baler"}, {"bale", "B010"}, {"weight", "5"},
                    {"unit", "lb"}, {"reason", "twine"}, {"disposition", "landfilled"}},
                   tests::standing_still());
    const auto months = months_of("final");
    CHECK(quantity::text_of(months.back().days.to) == "2026-12-31");
    CHECK(months.back().diverted_to_date == before - quantity::weight{5000});
}

TEST_CASE("Every figure of the sample season ties to its second sum") {
    const sample_season sample;
    for (const char* quarter : {"2026-Q1", "2026-Q2", "2026-Q3", "2026-Q4"}) {
        const seen_quarter seen{sample.file, quarter};
        const auto sums = figures::second_sums(seen.view.report, seen.tables, seen.view.season, seen.view.reckoning);
        REQUIRE(sums.size() == seen.view.report.figures.size());
        for (const auto& each : sums) {
            INFO(quarter << " " << each.name << " " << figures::text_of(each.filed) << " "
                         << figures::text_of(each.second));
            const bool predicted =
                each.name == "on_hand_expected" || each.name == "on_hand_low" || each.name == "on_hand_high";
            CHECK(each.result == (predicted ? figures::tie::no_second : figures::tie::ties));
        }
        CHECK(seen.page("auditor_tieout").find("does not tie<") == std::string::npos);
    }
}

TEST_CASE("A second sum finds a figure that was tampered with") {
    const sample_season sample;
    seen_quarter seen{sample.file, "2026-Q3"};
    for (auto& each : seen.view.report.figures)
        if (each.name == "diverted_weight") each.value = std::get<quantity::weight>(each.value) + quantity::weight{1};
    const auto page = seen.page("auditor_tieout");
    CHECK(page.find("Not every figure ties") != std::string::npos);
    CHECK(page.find("<td class=\"n\">0.001</td><td>does not tie</td>") != std::string::npos);
}
