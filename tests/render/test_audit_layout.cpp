#include "quiet_season.hpp"
#include "render/forms.hpp"
#include "render/layout_check.hpp"
#include "render/layout_fill.hpp"
#include "render/report_tables.hpp"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace tarewell;
using namespace tarewell::tests;

namespace {

render::filled_workbook audit_of(const reckoned_season& season, quantity::quarter quarter) {
    const auto report = season.all_figures(quarter);
    const auto layout = render::need_layout(render::form_shelf{}.choose("audit", true).form);
    return render::fill_layout(layout, {report, season.season(), season.reckoned(), {}});
}

const render::sheet_data& sheet_named(const render::filled_workbook& book, const std::string& name) {
    const auto found =
        std::find_if(book.sheets.begin(), book.sheets.end(), [&](const auto& each) { return each.name == name; });
    if (found == book.sheets.end()) throw std::logic_error("no sheet " + name);
    return *found;
}

} // namespace

TEST_CASE("the audit's workbook has each grower's ratio between its ends, the weighings, and a chart of both") {
    const reckoned_season season{"sample_data/season"};
    const auto book = audit_of(season, {2026, 3});
    const auto& growers = *sheet_named(book, "Ratios").source;
    const auto in = [&](const std::vector<figures::cell>& row, const char* column) {
        return row[growers.column(column)];
    };
    std::size_t given = 0, fitting = 0;
    for (const auto& row : growers.rows) {
        CHECK(in(row, "ratio").index() == in(row, "low").index());
        if (in(row, "call") == figures::cell{std::string{"fits"}}) ++fitting;
        if (std::holds_alternative<std::monostate>(in(row, "ratio"))) continue;
        ++given;
        CHECK(std::get<double>(in(row, "low")) < std::get<double>(in(row, "ratio")));
        CHECK(std::get<double>(in(row, "ratio")) < std::get<double>(in(row, "high")));
    }
    CHECK(given > 50);
    CHECK(fitting > 0);

    const auto& bales = *sheet_named(book, "Weighings").source;
    quantity::weight net;
    for (const auto& row : bales.rows)
        net += std::get<quantity::weight>(row[bales.column("net")]);
    const auto input =
        figures::audit_input_of(season.season(), season.reckoned(),
                                quantity::span_of_days{quantity::day::min(), quantity::day_of("2026-09-30")});
    // Spot weights are taken off their bales, so that all rows sum to what was weighed and what was weighed alone on
    // hand.
    CHECK(net == input.weighed + input.on_hand_spot);
    CHECK(sheet_named(book, "Charts").charts.size() == 2);
}

TEST_CASE("the audit's tables are made when a layout calls one, once, and not before") {
    const reckoned_season season{"sample_data/season"};
    const auto report = season.figures({2026, 3});
    const auto shelf = render::report_tables({report, season.season(), season.reckoned(), {}});
    CHECK(shelf.called("bales") != nullptr);
    CHECK(shelf.audit.empty());
    const auto growers = shelf.called("audit_growers");
    REQUIRE(growers != nullptr);
    CHECK(shelf.audit.size() == 3);
    CHECK(shelf.called("audit_growers") == growers);
    CHECK(shelf.called("audit_nothing") == nullptr);
    const auto known = render::known_tables().called("audit_growers");
    REQUIRE(known != nullptr);
    CHECK(known->rows.empty());
    CHECK(known->columns.size() == growers->columns.size());
}

TEST_CASE("the audit's workbook of a season without a weighing has its sheets and no ratio") {
    auto files = quiet_season();
    files["tickets.csv"] = "ticket,date,scale,weighs,subject,gross,tare,net,unit,entry,as_printed\n";
    const auto book = audit_of(reckoned_season{files}, {2026, 2});
    const auto& growers = *sheet_named(book, "Ratios").source;
    REQUIRE_FALSE(growers.rows.empty());
    for (const auto& row : growers.rows)
        CHECK(std::holds_alternative<std::monostate>(row[growers.column("ratio")]));
    CHECK(sheet_named(book, "Weighings").source->rows.empty());
}
