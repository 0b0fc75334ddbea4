#include "render/figure_formulas.hpp"

#include <fmt/format.h>

#include <map>

namespace tarewell::render {
namespace {

using namespace ledger; // NOLINT

std::string in_quarter(std::string_view dates) {
    return fmt::format(R"({0},">="&quarter_from,{0},"<="&quarter_to)", dates);
}
std::string to_date(std::string_view dates) { return fmt::format(R"({},"<="&quarter_to)", dates); }

std::string count(const std::string& criteria) { return fmt::format("COUNTIFS({})", criteria); }
std::string sum(std::string_view what, const std::string& criteria) {
    return fmt::format("SUMIFS({},{})", what, criteria);
}
std::string rounded(const std::string& expression, int places) {
    return fmt::format("ROUND({},{})", expression, places);
}
std::string ratio(std::string_view top, std::string_view bottom, std::string_view undefined_when) {
    return fmt::format(R"(IF({}{},"",{}/{}))", bottom, undefined_when, top, bottom);
}

constexpr std::string_view direct_on_grant = R"(costs_fund,"grant",costs_category,"<>indirect")";
constexpr std::string_view cost_in_quarter = "(grant_spent+indirect_claimed+match_given)";
constexpr std::string_view cost_to_date = "(grant_spent_to_date+indirect_to_date+match_to_date)";

std::string diverted(const award& of, std::string (*when)(std::string_view)) {
    const auto taken_off = sum("rejects_residue", when("rejects_counted_on"));
    const auto counted = of.counted_when == counting::accepted ? sum("acceptances_weight", when("acceptances_date"))
                                                               : sum("bales_net", when("bales_counted_on"));
    return rounded(counted + "-" + taken_off, 3);
}

/// The indirect claim through a day; what passes the limit in each subaward is summed on the sheet of subawards.
std::string indirect_through(const award& of, const std::string& day, std::string_view over) {
    if (!of.indirect_percent) return "0";
    return rounded(
        fmt::format(
            R"(MAX(0,SUMIFS(costs_amount,{},costs_category,"<>equipment",costs_date,"<="&{})-{})*indirect_percent/100)",
            direct_on_grant, day, over),
        2);
}

std::string match_required(const award& of) {
    if (!of.match_percent || of.base == match_base::none) return "0";
    return rounded(of.base == match_base::total
                       ? "(grant_spent_to_date+indirect_to_date)*match_percent/(100-match_percent)"
                       : "(grant_spent_to_date+indirect_to_date)*match_percent/100",
                   2);
}

std::map<std::string, std::string, std::less<>> bundle_formulas() {
    const std::string known_grower = R"(by_grower_grower,"<>unknown")";
    return {
        {"registered_bundles", count(in_quarter("bundles_registered_on"))},
        {"registered_estimate", rounded(sum("bundles_estimate", in_quarter("bundles_registered_on")), 3)},
        {"received_bundles", count(in_quarter("bundles_received_on"))},
        {"received_estimate", rounded(sum("bundles_estimate", in_quarter("bundles_received_on")), 3)},
        {"rejected_bundles", count(in_quarter("bundles_rejected_on"))},
        {"rejected_estimate", rounded(sum("bundles_estimate", in_quarter("bundles_rejected_on")), 3)},
        {"growers_served", count(R"(by_grower_received,">0",)" + known_grower)},
        {"growers_new", count(in_quarter("by_grower_first_received") + "," + known_grower)},
        {"growers_to_date", count(to_date("by_grower_first_received") + "," + known_grower)},
        {"sites_active", count(R"(by_site_receipts,">0")")},
        {"on_hand_bundles", count(to_date("bundles_received_on")) + "-" +
                                count(to_date("bundles_received_on") + "," + to_date("bundles_left_on"))},
        {"on_hand_estimate",
         rounded(sum("bundles_estimate", to_date("bundles_received_on")) + "-" +
                     sum("bundles_estimate", to_date("bundles_received_on") + "," + to_date("bundles_left_on")),
                 3)},
        {"rejected_share", ratio("rejected_bundles", "(rejected_bundles+received_bundles)", "=0")},
        {"baled_bundles", count(in_quarter("bundles_baled_on"))},
    };
}

std::map<std::string, std::string, std::less<>> bale_formulas(const award& of) {
    return {
        {"bales_made", count(in_quarter("bales_made_on"))},
        {"bales_weighed", count(in_quarter("bales_weighed_on"))},
        {"bale_net_weight", rounded(sum("bales_net", in_quarter("bales_weighed_on")), 3)},
        {"bale_estimate", rounded(sum("bales_estimate", in_quarter("bales_weighed_on")), 3)},
        {"weight_over_estimate", ratio("bale_net_weight", "bale_estimate", "=0")},
        {"residue_weight", rounded(sum("rejects_residue", in_quarter("rejects_date")), 3)},
        {"residue_share", ratio("residue_weight", "bale_net_weight", "=0")},
        {"bales_on_hand",
         count(to_date("bales_made_on")) + "-" + count(to_date("bales_made_on") + "," + to_date("bales_shipped_on"))},
        {"diverted_weight", diverted(of, in_quarter)},
        {"diverted_tons", "diverted_weight/unit_per_ton"},
        {"diverted_tons_to_date", diverted(of, to_date) + "/unit_per_ton"},
        {"goal_share", ratio("diverted_tons_to_date", "goal_tons", "=0")},
        {"shipped_tons", rounded(sum("bales_net", in_quarter("bales_shipped_and_weighed_on")), 3) + "/unit_per_ton"},
        {"accepted_tons", rounded(sum("acceptances_weight", in_quarter("acceptances_date")), 3) + "/unit_per_ton"},
    };
}

std::map<std::string, std::string, std::less<>> money_formulas(const award& of) {
    const std::string direct{direct_on_grant};
    const auto match = [](std::string (*when)(std::string_view)) {
        return rounded(sum("costs_amount", R"(costs_fund,"match",)" + when("costs_date")) + "+" +
                           sum("in_kind_value", when("in_kind_date")),
                       2);
    };
    return {
        {"grant_spent", rounded(sum("costs_amount", direct + "," + in_quarter("costs_date")), 2)},
        {"grant_spent_to_date", rounded(sum("costs_amount", direct + "," + to_date("costs_date")), 2)},
        {"indirect_to_date", indirect_through(of, "quarter_to", "subawards_over_to_date")},
        {"indirect_claimed",
         rounded("indirect_to_date-" + indirect_through(of, "(quarter_from-1)", "subawards_over_before"), 2)},
        {"match_given", match(in_quarter)},
        {"match_to_date", match(to_date)},
        {"grant_left", rounded("SUM(budget_grant)-grant_spent_to_date-indirect_to_date", 2)},
        {"match_required", match_required(of)},
        {"cost_per_ton", ratio(cost_in_quarter, "diverted_tons", "<=0")},
        {"grant_cost_per_ton", ratio("(grant_spent+indirect_claimed)", "diverted_tons", "<=0")},
        {"cost_per_ton_to_date", ratio(cost_to_date, "diverted_tons_to_date", "<=0")},
        {"grant_cost_per_ton_to_date", ratio("(grant_spent_to_date+indirect_to_date)", "diverted_tons_to_date", "<=0")},
    };
}

std::string income(const char* kind, const char* more = "") {
    return rounded(sum("program_income_amount",
                       fmt::format(R"(program_income_kind,"{}",)", kind) + more + to_date("program_income_date")),
                   2);
}

/// The agency's payments, and SF-425 10a to 10o.
std::map<std::string, std::string, std::less<>> agency_formulas(const award& of) {
    const std::string paid_back = R"(payments_kind,"reimbursement",)" + to_date("payments_date");
    const std::string weighed = to_date("bales_weighed_on"), counted = to_date("bales_counted_on");
    std::string waiting; // weighed and not counted yet
    if (of.counted_when == counting::shipped)
        waiting = fmt::format("+({}-{}-{}+{})/unit_per_ton", sum("bales_net", weighed), sum("bales_net", counted),
                              sum("bales_residue", weighed), sum("bales_residue", counted));
    std::map<std::string, std::string, std::less<>> formulas{
        {"growers_returning",
         count(R"(by_grower_received,">0",by_grower_grower,"<>unknown",by_grower_first_received,"<"&quarter_from)")},
        {"projected_tons", fmt::format(R"(IF({1}=0,"",diverted_tons_to_date{2}+on_hand_estimate*{0}/{1}/unit_per_ton))",
                                       sum("bales_net", weighed), sum("bales_estimate", weighed), waiting)},
        {"tipping_avoided", R"(IF(tipping_fee_per_ton=0,"",ROUND(diverted_tons*tipping_fee_per_ton,2)))"},
        {"payments_received", rounded(sum("payments_amount", in_quarter("payments_date")), 2)},
        {"claimed_unpaid", rounded(sum("requests_amount", to_date("requests_date")) + "-" +
                                       sum("payments_amount", paid_back) + "-" + sum("payments_retained", paid_back),
                                   2)},
        {"retained_to_date",
         rounded(sum("payments_retained", to_date("payments_date")) + "-" +
                     sum("payments_amount", R"(payments_kind,"retainage",)" + to_date("payments_date")),
                 2)},
        {"line_10a", rounded(sum("payments_amount", to_date("payments_date")), 2)},
        {"line_10b", rounded(sum("costs_amount", std::string{direct_on_grant} + "," + to_date("costs_paid_on")) +
                                 "+indirect_to_date",
                             2)},
        {"line_10c", rounded("line_10a-line_10b", 2)},
        {"line_10d", rounded("SUM(budget_grant)", 2)},
        {"line_10e", rounded("grant_spent_to_date+indirect_to_date-line_10m", 2)},
        {"line_10f",
         rounded(sum("obligations_amount", R"(obligations_fund,"grant",)" + to_date("obligations_date")), 2)},
        {"line_10g", rounded("line_10e+line_10f", 2)},
        {"line_10h", rounded("line_10d-line_10g", 2)},
        {"line_10i", !of.match_percent || of.base == match_base::none ? rounded("SUM(budget_match)", 2)
                     : of.base == match_base::total ? rounded("line_10d*match_percent/(100-match_percent)", 2)
                                                    : rounded("line_10d*match_percent/100", 2)},
        {"line_10j", "match_to_date"},
        {"line_10k", rounded("line_10i-line_10j", 2)},
        {"line_10l", income("earned")},
        {"line_10m", income("spent", R"(program_income_method,"deduction",)")},
        {"line_10n", income("spent", R"(program_income_method,"addition",)")},
        {"line_10o", rounded("line_10l-line_10m-line_10n", 2)},
    };
    // Which bales' shipments were accepted by a day, no short formula says: a plain value.
    if (of.counted_when == counting::accepted) formulas.erase("projected_tons");
    return formulas;
}

} // namespace

std::optional<std::string> formula_of(std::string_view figure, const award& of) {
    for (const auto& formulas : {bundle_formulas(), bale_formulas(of), money_formulas(of), agency_formulas(of)})
        if (const auto found = formulas.find(figure); found != formulas.end()) return "=" + found->second;
    return std::nullopt;
}

} // namespace tarewell::render
