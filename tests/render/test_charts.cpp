#include "render/svg_canvas.hpp"
#include "render/svg_chart.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace tarewell::render;

namespace {

const chart_words words{"chart-x", "Tons & \"claims\"", "What <one> reads", "Month", "tons"};

std::vector<chart> one_of_each() {
    const std::vector<line_point> points{{"Apr", {1.5, "1.500"}}, {"May", {4, "4.000"}}, {"Jun", {-1, "-1.000"}}};
    return {
        horizontal_bars(words, "Bundles", {{"soil <wet>", {3, "3"}}, {"twine", {-1, "-1"}}}),
        bars_against_targets(words, {"Spent", "Budget", "Given", "Match budget"},
                             {{"travel", {10, "$10"}, {20, "$20"}, {0, "$0"}, {5, "$5"}}}),
        grouped_columns(words, {"Claimed", "Scale"}, {{"Apr", {{2, "2"}, {1, "1"}}}, {"May", {{3, "3"}, {3, "3"}}}}),
        line_with_goal(words, "To date", points, "Goal", {13, "13"}),
        paired_dots(words, "Claimed", "Scale", {{"B001", {400, "400"}, {352, "352"}}}),
        interval_plot(
            words, "Ratio",
            {{"G1", {0.9, "0.90"}, {0.8, "0.80"}, {1, "1.00"}}, {"G2", {2, "2.00"}, {1.8, "1.80"}, {2.2, "2.20"}}},
            tolerance_band{{0.75, "0.75"}, {1.25, "1.25"}, "tolerance"}),
        control_chart_of(words, "Ratio", points, {{1, "1.0"}, {0, "0.0"}, {2, "2.0"}})};
}

std::size_t count_of(const std::string& what, const std::string& in) {
    std::size_t found = 0;
    for (auto at = in.find(what); at != std::string::npos; at = in.find(what, at + 1))
        ++found;
    return found;
}

} // namespace

TEST_CASE("Every chart has a title, a description, a role and a table of its numbers") {
    for (const auto& each : one_of_each()) {
        INFO(each.svg);
        CHECK(each.svg.starts_with("<svg "));
        CHECK(each.svg.ends_with("</svg>"));
        CHECK(count_of("<title id=\"chart-x-title\">Tons &amp; &quot;claims&quot;</title>", each.svg) == 1);
        CHECK(count_of("<desc id=\"chart-x-desc\">What &lt;one&gt; reads</desc>", each.svg) == 1);
        CHECK(count_of("role=\"img\" aria-labelledby=\"chart-x-title chart-x-desc\"", each.svg) == 1);
        CHECK(count_of("viewBox=\"0 0 400 ", each.svg) == 1);
        CHECK(each.svg.find("<script") == std::string::npos);
        CHECK(each.svg.find("nan") == std::string::npos);
        CHECK(each.svg.find("inf") == std::string::npos);
        CHECK(each.table.headings.front() == "Month");
        REQUIRE_FALSE(each.table.rows.empty());
        for (const auto& row : each.table.rows)
            CHECK(row.size() == each.table.headings.size());
    }
}

TEST_CASE("Rows of which the same is said look alike in picture and table, whatever their intervals") {
    const auto chart = interval_plot(words, "Ratio",
                                     {{"G1", {0.8, "0.80"}, {0.7, "0.70"}, {1, "1.00"}, "runs high", true},
                                      {"G2", {0.6, "0.60"}, {0.5, "0.50"}, {0.7, "0.70"}, "runs high", true},
                                      {"G3", {2, "2.00"}, {1.8, "1.80"}, {2.2, "2.20"}, "check first", false}},
                                     tolerance_band{{0.9, "0.90"}, {1.1, "1.10"}, "Tolerance"});
    CHECK(chart.table.headings.back() == "Call");
    CHECK(chart.table.rows[0].back() == "runs high");
    CHECK(chart.table.rows[1].back() == "runs high");
    CHECK(chart.table.rows[2].back() == "check first");
    CHECK(count_of("<path", chart.svg) + count_of("<polygon", chart.svg) >= 3); // a key and two called
    CHECK(chart.svg.find("not apart") == std::string::npos);
}

TEST_CASE("A chart's labels are escaped and its table keeps them whole") {
    const auto chart = horizontal_bars(words, "Bundles", {{"a <b> & a label too long to stand beside", {3, "3"}}});
    CHECK(chart.svg.find("<b>") == std::string::npos);
    CHECK(chart.svg.find("&lt;b&gt;") != std::string::npos);
    CHECK(chart.table.rows.front().front() == "a <b> & a label too long to stand beside");
}

TEST_CASE("Series differ by more than colour") {
    const auto charts = one_of_each();
    CHECK(count_of("url(#chart-x-hatch)", charts[1].svg) > 0); // match, hatched
    CHECK(count_of("fill=\"none\"", charts[1].svg) > 0);       // budget, outlined
    CHECK(count_of("url(#chart-x-hatch)", charts[2].svg) > 0);
    CHECK(count_of("stroke-dasharray", charts[3].svg) > 0);
    CHECK(count_of("<path d=\"M", charts[4].svg) == 2); // a hollow diamond, and its key
}

TEST_CASE("An interval apart from the band and a point past its limits are said in words, too") {
    const auto charts = one_of_each();
    CHECK(charts[5].table.rows[0].back() == "not apart from it");
    CHECK(charts[5].table.rows[1].back() == "outside");
    CHECK(charts[6].table.rows[0].back() == "inside");
    CHECK(charts[6].table.rows[1].back() == "outside");
    CHECK(charts[6].table.rows[2].back() == "outside");
}

TEST_CASE("A chart without rows, or with all at 0, still draws") {
    CHECK_NOTHROW(horizontal_bars(words, "Bundles", {}));
    CHECK_NOTHROW(paired_dots(words, "Claimed", "Scale", {}));
    CHECK_NOTHROW(interval_plot(words, "Ratio", {}, std::nullopt));
    const auto flat = grouped_columns(words, {"Claimed"}, {{"Apr", {{0, "0"}}}});
    CHECK(flat.svg.find("nan") == std::string::npos);
    const auto same = paired_dots(words, "Claimed", "Scale", {{"B1", {7, "7"}, {7, "7"}}});
    CHECK(same.svg.find("nan") == std::string::npos);
}

TEST_CASE("Ticks are round, in order and reach past both ends") {
    for (const auto& [low, high] : {std::pair{0.0, 13.0}, {0.0, 0.037}, {-5.0, 9421.0}, {287.0, 512.0}, {1e9, 3e9}}) {
        const auto made = ticks(low, high, 4);
        REQUIRE(made.size() >= 2);
        CHECK(made.size() <= 9);
        CHECK(made.front() <= low + 1e-9);
        CHECK(made.back() >= high - 1e-9 * std::abs(high));
    }
    CHECK(tick_text(12500, 2500) == "12,500");
    CHECK(tick_text(0.25, 0.25) == "0.25");
    CHECK(tick_text(-0.0, 1) == "0");
    CHECK(grouped_digits("-1234567.890") == "-1,234,567.890");
    CHECK(grouped_digits("-123.40") == "-123.40");
    CHECK(grouped_digits("not defined") == "not defined");
}
