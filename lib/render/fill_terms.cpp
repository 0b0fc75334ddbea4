#include "figures/make_columns.hpp"
#include "render/fill_sheets.hpp"

#include <fmt/format.h>

#include <set>

namespace tarewell::render {
namespace {

using namespace figures; // NOLINT

real real_of(const std::optional<quantity::decimal>& value) {
    return value ? quantity::nearest_double(value->mantissa, quantity::power_of_ten(value->scale)) : 0.0;
}

quantity::day day_before(const page_input& in) { return in.report.basis.days.from - date::days{1}; }

money limit_on(const page_input& in, quantity::day on) {
    return quantity::money_from(quantity::decimal_of(in.season.setting_on("subaward_limit", on)));
}

/// Direct costs of a subaward on the grant, less equipment, through a day.
money direct_through(const page_input& in, const std::string& subaward, quantity::day last) {
    money sum;
    for (const auto& cost : in.season.costs)
        if (cost.subaward == subaward && cost.fund == ledger::fund::grant && cost.date <= last &&
            cost.category != "equipment" && cost.category != "indirect")
            sum += cost.amount;
    return sum;
}

money over(money sum, money limit) { return std::max(money{}, sum - limit); }

std::string direct_formula(const char* day) {
    return fmt::format(
        R"(=ROUND(SUMIFS(costs_amount,costs_fund,"grant",costs_category,"<>indirect",costs_category,"<>equipment",costs_subaward,A#,costs_date,"<="&{}),2))",
        day);
}

} // namespace

sheet_data terms_sheet(const page_input& in) {
    table rows{
        "Terms", "", {words("term", "Term"), {"value", "Value", content::ratio, false}, words("note", "Note")}, {}};
    std::map<std::pair<std::size_t, std::size_t>, special_cell> special;
    const auto term = [&](const char* label, const char* name, real value, std::string note = {}) {
        special[{rows.rows.size(), 1}] = {{}, name, look::plain};
        rows.rows.push_back({std::string{label}, value, std::move(note)});
    };
    const auto days = in.report.basis.days;
    const auto terms = in.season.terms_on(days.to);
    const bool pounds = terms.unit == quantity::weight_unit::lb;
    const std::string none = "the award gives none";
    term(pounds ? "Pounds in a ton" : "Kilograms in a ton of 2,000 lb", "unit_per_ton", pounds ? 2000 : 907.18474);
    term("Goal, tons", "goal_tons", real_of(terms.goal_tons));
    term("Match, percent", "match_percent", real_of(terms.match_percent), terms.match_percent ? "" : none);
    term("Indirect, percent", "indirect_percent", real_of(terms.indirect_percent), terms.indirect_percent ? "" : none);
    term("Limit in each subaward, to date", "subaward_limit", *number_in(limit_on(in, days.to)));
    term("Limit in each subaward, before the quarter", "subaward_limit_before",
         *number_in(limit_on(in, day_before(in))));
    term("Landfill fee, $ per ton", "tipping_fee_per_ton",
         real_of(quantity::decimal_of(in.season.setting_on("tipping_fee_per_ton", days.to))));
    for (const auto& each : in.season.amendments)
        rows.rows.push_back({fmt::format("Amendment {}", each.id), cell{},
                             fmt::format("{}: {}", quantity::text_of(each.date), each.why)});
    auto sheet = whole_sheet(std::move(rows));
    sheet.special = std::move(special);
    return sheet;
}

sheet_data subawards_sheet(const page_input& in) {
    table rows{"Subawards",
               "",
               {words("subaward", "Subaward"), dollars("direct", "Direct on grant to date"),
                dollars("direct_before", "Direct on grant before the quarter"),
                dollars("over", "Over the limit to date"), dollars("over_before", "Over the limit before the quarter")},
               {}};
    std::map<std::pair<std::size_t, std::size_t>, special_cell> special;
    std::set<std::string> names;
    for (const auto& cost : in.season.costs)
        if (!cost.subaward.empty()) names.insert(cost.subaward);
    const auto last = in.report.basis.days.to;
    for (const auto& name : names) {
        const auto row = rows.rows.size();
        special[{row, 1}].formula = direct_formula("quarter_to");
        special[{row, 2}].formula = direct_formula("(quarter_from-1)");
        special[{row, 3}].formula = "=MAX(0,B#-subaward_limit)";
        special[{row, 4}].formula = "=MAX(0,C#-subaward_limit_before)";
        const auto to_date = direct_through(in, name, last), before = direct_through(in, name, day_before(in));
        rows.rows.push_back(
            {name, to_date, before, over(to_date, limit_on(in, last)), over(before, limit_on(in, day_before(in)))});
    }
    auto sheet = whole_sheet(std::move(rows));
    sheet.special = std::move(special);
    sheet.total_label = "In all subawards";
    for (std::size_t c = 1; c < sheet.columns.size(); ++c)
        sheet.columns[c].total = true;
    sheet.columns[3].range_name = "subawards_over_to_date_rows";
    sheet.columns[4].range_name = "subawards_over_before_rows";
    sheet.special_totals[3] = {"=ROUND(SUM(subawards_over_to_date_rows),2)", "subawards_over_to_date", {}};
    sheet.special_totals[4] = {"=ROUND(SUM(subawards_over_before_rows),2)", "subawards_over_before", {}};
    return sheet;
}

} // namespace tarewell::render
