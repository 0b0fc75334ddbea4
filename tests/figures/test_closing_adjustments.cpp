#include "closed_basin.hpp"
#include "figures/table.hpp"
#include "quantity/decimal.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using records::kind;

namespace {

/// A figure's text in thousandths, so that sums are exact.
std::int64_t thousandths(const std::string& text) {
    const bool below = text.starts_with('-');
    const auto value = quantity::decimal_of(below ? text.substr(1) : text);
    auto mantissa = value.mantissa;
    for (int scale = value.scale; scale < 3; ++scale)
        mantissa *= 10;
    for (int scale = value.scale; scale > 3; --scale)
        mantissa /= 10;
    return below ? -mantissa : mantissa;
}

const figures::table* adjustments_in(const std::vector<figures::table>& tables) {
    for (const auto& each : tables)
        if (each.name == "Adjustments") return &each;
    return nullptr;
}

std::string text_in(const figures::table& of, const std::vector<figures::cell>& row, const char* column) {
    return std::get<std::string>(row[of.column(column)]);
}

/// The sum of a figure's differences, over all quarters or one.
std::int64_t adjusted(const figures::table& of, const std::string& figure, const std::string& quarter = {}) {
    std::int64_t sum = 0;
    for (const auto& row : of.rows)
        if (text_in(of, row, "figure") == figure && (quarter.empty() || text_in(of, row, "quarter") == quarter))
            sum += thousandths(text_in(of, row, "difference"));
    return sum;
}

std::vector<figures::restatement> adjustments_of(closed_basin& basin, quantity::quarter quarter,
                                                 records::entry_no as_of) {
    const auto view = figures::view_period(basin.ledger(), quarter, as_of);
    return figures::adjustments(basin.ledger(), view.season, view.reckoning, view.report.basis);
}

/// The tables of a quarter's report as the ledger stands.
std::vector<figures::table> tables_of(closed_basin& basin, quantity::quarter quarter) {
    const auto view = figures::view_period(basin.ledger(), quarter, basin.head());
    return figures::evidence_tables(
        view.season, view.reckoning, view.report.basis, false,
        figures::adjustments(basin.ledger(), view.season, view.reckoning, view.report.basis));
}

/// Two quarters closed, with changes to the first before and after the second was closed, and to both after.
struct two_closed : closed_basin {
    records::entry_no spring_filed = 0, summer_filed = 0;
    two_closed() {
        record(kind::receipt,
               {{"receipt", "RC5"}, {"date", "2026-06-30"}, {"site", "S2"}, {"bundle", "B5"}, {"outcome", "accepted"}});
        spring_filed = close(spring) - 1;
        correct(kind::ticket, {"T1"}, {{"gross", "160"}, {"net", "120"}});
        cost("C8", "2026-06-15", "33.33");
        cost("C9", "2026-07-15", "210.05");
        record(kind::bale, {{"bale", "L2"}, {"date", "2026-07-20"}, {"site", "S2"}, {"bundle", "B5"}});
        record(kind::ticket, {{"ticket", "T2"},
                              {"date", "2026-07-21"},
                              {"scale", "P1"},
                              {"weighs", "bale"},
                              {"subject", "L2"},
                              {"net", "44"},
                              {"unit", "lb"},
                              {"entry", "manual"}});
        summer_filed = close(summer) - 1;
        correct(kind::cost, {"C8"}, {{"amount", "-3.34"}}); // the first quarter again
        correct(kind::ticket, {"T2"}, {{"net", "41"}});
        cost("C10", "2026-08-01", "77.77", "match");
        take_out(kind::reject, {"J1"});
        cost("C11", "2026-10-05", "19.99");
        record(kind::inkind, {{"inkind", "I9"},
                              {"date", "2026-11-01"},
                              {"kind", "hours"},
                              {"giver", "Ola"},
                              {"quantity", "1.5"},
                              {"rate", "20.01"}});
    }
};

} // namespace

TEST_CASE("a quarter after no closed one, or after one that stands as filed, carries no adjustments") {
    closed_basin basin;
    CHECK(adjustments_in(tables_of(basin, closed_basin::summer)) == nullptr);
    basin.close();
    CHECK(adjustments_in(tables_of(basin, closed_basin::summer)) == nullptr);
    basin.cost("C9", "2026-06-30", "12.50");
    CHECK(adjustments_in(tables_of(basin, closed_basin::summer)) != nullptr);
    CHECK(adjustments_in(tables_of(basin, closed_basin::spring)) == nullptr); // a quarter does not adjust itself
}

TEST_CASE("over two closed quarters, what was filed, the adjustments and the quarter make the total to date") {
    two_closed basin;
    const auto tables = tables_of(basin, closed_basin::autumn);
    const auto* sheet = adjustments_in(tables);
    REQUIRE(sheet != nullptr);
    const auto filed = [&](const std::string& figure, quantity::quarter quarter, records::entry_no as_of) {
        return thousandths(basin.figure(figure, quarter, as_of));
    };
    for (const auto& [figure, to_date] :
         {std::pair{"grant_spent", "grant_spent_to_date"}, std::pair{"match_given", "match_to_date"},
          std::pair{"indirect_claimed", "indirect_to_date"}}) {
        CAPTURE(figure);
        const auto now = thousandths(basin.figure(to_date, closed_basin::autumn));
        const auto quarter = thousandths(basin.figure(figure, closed_basin::autumn));
        CHECK(filed(figure, closed_basin::spring, basin.spring_filed) +
                  filed(figure, closed_basin::summer, basin.summer_filed) + adjusted(*sheet, figure) + quarter ==
              now);
        // And from the last report's to-date alone, with its own adjustment.
        CHECK(filed(to_date, closed_basin::summer, basin.summer_filed) + adjusted(*sheet, to_date, "2026-Q3") +
                  quarter ==
              now);
    }
    // Weights: 105 and 44 lb were filed; L1 weighs 10 more and lost no residue, L2 weighs 3 less.
    CHECK(filed("diverted_weight", closed_basin::spring, basin.spring_filed) == 105'000);
    CHECK(filed("diverted_weight", closed_basin::summer, basin.summer_filed) == 44'000);
    CHECK(adjusted(*sheet, "diverted_weight", "2026-Q2") == 15'000);
    CHECK(adjusted(*sheet, "diverted_weight", "2026-Q3") == -3'000);
    CHECK(basin.figure("diverted_tons_to_date", closed_basin::autumn) == "0.0805"); // 161 lb
}

TEST_CASE("the report between two closings carries what had changed by then, and no more once it is closed") {
    two_closed basin;
    const auto then = adjustments_of(basin, closed_basin::summer, basin.summer_filed);
    CHECK(said(then, "grant_spent").starts_with("100.50 -> 133.83 (33.33)"));
    CHECK(said(then, "bale_net_weight").starts_with("110.000 -> 120.000 (10.000)"));
    CHECK(find(then, "residue_weight") == nullptr);
    const auto now = adjustments_of(basin, closed_basin::autumn, basin.head());
    CHECK(said(now, "grant_spent").starts_with("100.50 -> 97.16 (-3.34)"));
    CHECK(said(now, "residue_weight").starts_with("5.000 -> 0.000 (-5.000)"));
}

TEST_CASE("each adjustment names its quarter, unit and entries, and comes quarter by quarter") {
    two_closed basin;
    const auto tables = tables_of(basin, closed_basin::autumn);
    const auto& sheet = *adjustments_in(tables);
    std::string last;
    for (const auto& row : sheet.rows) {
        CHECK(text_in(sheet, row, "quarter") >= last);
        last = text_in(sheet, row, "quarter");
        CHECK_FALSE(text_in(sheet, row, "entries").empty());
        CHECK_FALSE(text_in(sheet, row, "unit").empty());
    }
    CHECK(last == "2026-Q3");
}
