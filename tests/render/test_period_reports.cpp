#include "quiet_season.hpp"
#include "render/forms.hpp"
#include "render/layout_fill.hpp"
#include "workbook_parts.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;

namespace {

const reckoned_season& sample() {
    static const reckoned_season season{"sample_data/season"};
    return season;
}

struct period_report {
    figures::report report;
    explicit period_report(const char* period) : report{sample().all_figures(*quantity::read_period(period))} {}
    [[nodiscard]] render::page_input input() const { return {report, sample().season(), sample().reckoned(), {}}; }
    [[nodiscard]] std::string page(const std::string& form) const {
        const render::form_shelf shelf;
        return shelf.fill(shelf.need(form), input());
    }
};

} // namespace

TEST_CASE("a year's page says year where a quarter's says quarter, and shows its quarters side by side") {
    const auto year = period_report{"2026"}.page("quarter_page"),
               quarter = period_report{"2026-Q2"}.page("quarter_page");
    CHECK_THAT(year, Contains("Diverted in the year") && Contains("Quarters side by side") &&
                         Contains("2026-Q3, open") && Contains("Weight diverted in the year, net of contamination"));
    CHECK_THAT(year, !Contains("in the quarter") && !Contains("the quarter's") && !Contains("this quarter"));
    CHECK_THAT(quarter, Contains("Diverted in the quarter") && !Contains("Quarters side by side"));
    for (const auto* page : {&year, &quarter})
        CHECK_THAT(*page, Contains("Goal and pace") && Contains("What a ton cost, by purpose") && Contains("Hauling"));
    for (const auto* form : {"certification", "auditor_tieout", "cost_lines"})
        CHECK_THAT(period_report{"final"}.page(form), !Contains("the quarter") && !Contains("in quarter"));
}

TEST_CASE("a year's workbook has a sheet of its quarters whose sums are the year's figures") {
    const period_report year{"2026"};
    const auto filled = render::fill_layout(shipped_layout(), year.input());
    const auto sheet = std::find_if(filled.sheets.begin(), filled.sheets.end(),
                                    [](const auto& each) { return each.name == "Quarters"; });
    REQUIRE(sheet != filled.sheets.end());
    // Figure, unit, four quarters, what changed, the year, how, and the check.
    REQUIRE(sheet->columns.size() == 10);
    CHECK(sheet->columns[7].heading == "2026");
    std::size_t checked = 0;
    for (std::size_t row = 0; row < sheet->rows.size(); ++row) {
        const auto* check = sheet->special_at(row, 9);
        if (check == nullptr || check->formula.empty()) continue;
        CHECK_THAT(check->formula, Contains("SUM(C#:G#)-H#"));
        double sum = 0;
        for (std::size_t column = 2; column < 6; ++column)
            sum += render::number_in(sheet->at(row, column)).value_or(0);
        INFO(render::exact_text(sheet->at(row, 0)));
        CHECK(sum == Approx(render::number_in(sheet->at(row, 7)).value()).margin(1e-9));
        ++checked;
    }
    CHECK(checked > 20);
    CHECK(filled.sheets.front().columns[3].heading == "This year");
    const auto of_quarter = render::fill_layout(shipped_layout(), period_report{"2026-Q2"}.input());
    CHECK(std::none_of(of_quarter.sheets.begin(), of_quarter.sheets.end(),
                       [](const auto& each) { return each.name == "Quarters"; }));
}
