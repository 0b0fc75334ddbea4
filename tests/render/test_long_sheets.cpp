#include "render/long_sheets.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;

TEST_CASE("a formula over a table on several sheets counts and sums them all") {
    const std::map<std::string, std::size_t> sheets{{"bales_net", 2}, {"bales_on", 2}, {"bales_site", 2}};
    const auto across = [&](const char* formula) { return render::across_sheets(formula, sheets); };
    CHECK(across("=SUM(bales_net)") == "=(SUM(bales_net)+SUM(bales_net_sheet_2))");
    CHECK(across(R"(=ROUND(-COUNTIFS(bales_on,">="&quarter_from)/2,4))") ==
          R"(=ROUND(-(COUNTIFS(bales_on,">="&quarter_from)+COUNTIFS(bales_on_sheet_2,">="&quarter_from))/2,4))");
    CHECK(across(R"x(=SUMIFS(bales_net,bales_on,"<="&quarter_to,bales_site,"(bales_net)")-SUM(costs_amount))x") ==
          R"x(=(SUMIFS(bales_net,bales_on,"<="&quarter_to,bales_site,"(bales_net)"))x"
          R"x(+SUMIFS(bales_net_sheet_2,bales_on_sheet_2,"<="&quarter_to,bales_site_sheet_2,"(bales_net)")))x"
          R"x(-SUM(costs_amount))x");
}

TEST_CASE("a formula without a split table stays as it is") {
    const std::map<std::string, std::size_t> sheets{{"bales_net", 3}};
    for (const auto* formula : {"", "=diverted_tons*2", "=SUM(bales_net_tons)", R"x(=IF(x="SUM(bales_net",1,0))x"})
        CHECK(render::across_sheets(formula, sheets) == formula);
}
