// The table of figures: a line for each, in the order in which they are shown everywhere.
#include "figures/lines.hpp"

#include "grant/measures.hpp"
#include "reconcile/measures.hpp"

#include <algorithm>
#include <stdexcept>

namespace tarewell::figures {
namespace {

using namespace reconcile::measures; // NOLINT
namespace funds = grant::measures;

constexpr auto in_quarter = when::in_quarter, to_date = when::to_date, standing = when::standing;
constexpr const char* no_tons = "no tons were diverted";

/// By the award's way of counting, which has one of the first two.
expression diverted(when which) {
    return sum(counted_bales, which) + sum(counted_acceptances, which) - sum(counted_residue, which);
}

expression match(when which) {
    return sum(funds::match_costs, which) + sum(funds::in_kind, which) + sum(funds::income_matched, which);
}

/// Paid of what is charged to the grant, whoever's money paid it.
expression paid_to_date() { return sum(funds::paid, to_date) + the("indirect_to_date") - the("line_10m"); }

std::vector<line> make_lines() {
    return {
        {"registered_bundles", unit::bundles, count(registered, in_quarter),
         "Bundles of registrations dated in the quarter"},
        {"registered_estimate", unit::heft, sum(registered, in_quarter),
         "Estimates of the bundles registered in the quarter"},
        {"received_bundles", unit::bundles, count(received, in_quarter), "Bundles accepted at a site in the quarter"},
        {"received_estimate", unit::heft, sum(received, in_quarter),
         "Estimates of the bundles accepted in the quarter"},
        {"growers_served", unit::growers, distinct(served, in_quarter),
         "Growers with a bundle accepted in the quarter"},
        {"growers_new", unit::growers, first_time(served), "Growers with a bundle accepted for the first time"},
        {"growers_to_date", unit::growers, distinct(served, to_date),
         "Growers with a bundle accepted by the quarter's last day"},
        {"rejected_bundles", unit::bundles, count(rejected, in_quarter), "Bundles rejected in the quarter, each once"},
        {"rejected_estimate", unit::heft, sum(rejected, in_quarter),
         "Estimates of the bundles rejected in the quarter"},
        {"sites_active", unit::sites, distinct(visited, in_quarter), "Sites with a receipt in the quarter"},
        {"bales_made", unit::bales, distinct(pressed, in_quarter), "Bales pressed in the quarter"},
        {"baled_bundles", unit::bundles, count(baled, in_quarter),
         "Bundles pressed in the quarter, later pulls included"},
        {"bales_weighed", unit::bales, count(weighed, in_quarter), "Bales whose weighing is in the quarter"},
        {"bale_net_weight", unit::heft, sum(weighed, in_quarter), "Net weight of the bales weighed in the quarter"},
        {"bale_estimate", unit::heft, sum(claimed, in_quarter),
         "Estimates of the bundles in the bales weighed in the quarter"},
        {"weight_over_estimate", unit::ratio,
         over(the("bale_net_weight"), the("bale_estimate"),
              "no estimate stands behind the bales weighed in the quarter"),
         "Net weight over estimate of those bales: below 1, claims ran high"},
        {"on_hand_bundles", unit::bundles, count(received, standing),
         "Bundles on hand on the last day: accepted, not rejected since, not in a weighed bale"},
        {"on_hand_estimate", unit::heft, sum(received, standing), "Estimates of the bundles on hand on the last day"},
        {"residue_weight", unit::heft, sum(residue, in_quarter), "Weight rejected out of weighed bales in the quarter"},
        {"rejected_share", unit::ratio,
         over(the("rejected_bundles"), the("rejected_bundles") + the("received_bundles"),
              "no bundle was received or rejected in the quarter"),
         "Rejected bundles over rejected and received bundles"},
        {"residue_share", unit::ratio,
         over(the("residue_weight"), the("bale_net_weight"), "no bale was weighed in the quarter"),
         "Residue over the net weight of the quarter's bales"},
        {"diverted_weight", unit::heft, diverted(in_quarter), "Weight diverted in the quarter, net of contamination"},
        {"diverted_tons", unit::tons, tons(the("diverted_weight")), "Tons of 2,000 lb diverted in the quarter"},
        {"diverted_tons_to_date", unit::tons, tons(diverted(to_date)), "Tons diverted through the quarter's last day"},
        {"goal_share", unit::ratio, over(the("diverted_tons_to_date"), goal_tons(), "the award's goal is 0 tons"),
         "Tons diverted to date over the award's goal"},
        {"shipped_tons", unit::tons, tons(sum(shipped, in_quarter)),
         "Tons shipped in the quarter, on the later of weighing and shipment"},
        {"accepted_tons", unit::tons, tons(sum(accepted, in_quarter)), "Tons accepted by processors in the quarter"},
        {"bales_on_hand", unit::bales, distinct(pressed, standing), "Bales made and not shipped by the last day"},
        {"grant_spent", unit::dollars, sum(funds::direct, in_quarter), "Direct costs on the grant in the quarter"},
        {"grant_spent_to_date", unit::dollars, sum(funds::direct, to_date),
         "Direct costs on the grant through the last day"},
        {"indirect_claimed", unit::dollars, indirect(in_quarter), "Indirect costs claimed for the quarter"},
        {"indirect_to_date", unit::dollars, indirect(to_date),
         "The award's percent of the indirect base through the last day"},
        {"match_given", unit::dollars, match(in_quarter),
         "Costs on match, in-kind contributions and program income spent as match in the quarter"},
        {"match_to_date", unit::dollars, match(to_date),
         "Costs on match, in-kind contributions and program income spent as match through the last day"},
        {"grant_left", unit::dollars,
         sum(funds::grant_budget, to_date) - the("grant_spent_to_date") - the("indirect_to_date") + the("line_10m"),
         "The budget's grant total less direct and indirect costs to date, net of program income deducted"},
        {"match_required", unit::dollars,
         match_for(the("grant_spent_to_date") + the("indirect_to_date") - the("line_10m")),
         "The match that goes with the grant money spent to date, net of program income deducted"},
        {"cost_per_ton", unit::dollars_a_ton,
         over(the("grant_spent") + the("indirect_claimed") + the("match_given"), the("diverted_tons"), no_tons, true),
         "Grant, indirect and match over tons diverted in the quarter"},
        {"grant_cost_per_ton", unit::dollars_a_ton,
         over(the("grant_spent") + the("indirect_claimed"), the("diverted_tons"), no_tons, true),
         "Grant and indirect over tons diverted in the quarter"},
        {"cost_per_ton_to_date", unit::dollars_a_ton,
         over(the("grant_spent_to_date") + the("indirect_to_date") + the("match_to_date"), the("diverted_tons_to_date"),
              no_tons, true),
         "Grant, indirect and match over tons diverted to date"},
        {"grant_cost_per_ton_to_date", unit::dollars_a_ton,
         over(the("grant_spent_to_date") + the("indirect_to_date"), the("diverted_tons_to_date"), no_tons, true),
         "Grant and indirect over tons diverted to date"},
        {"growers_returning", unit::growers, the("growers_served") - the("growers_new"),
         "Growers served in the quarter who were served before it"},
        {"projected_tons", unit::tons,
         the("diverted_tons_to_date") + tons(sum(waiting_bales, standing) - sum(waiting_residue, standing)) +
             tons(over(times(the("on_hand_estimate"), sum(weighed, to_date)), sum(claimed, to_date),
                       "no estimate stands behind the bales weighed to date")),
         "Tons to date, bales weighed and not yet counted, and what is on hand at all bales' weight over estimate"},
        {"tipping_avoided", unit::dollars,
         priced_at(the("diverted_tons"), "tipping_fee_per_ton", "no landfill fee is given"),
         "The landfill's fee on the tons diverted in the quarter"},
        {"payments_received", unit::dollars, sum(funds::payments, in_quarter),
         "Payments from the agency in the quarter"},
        {"claimed_unpaid", unit::dollars, sum(funds::claimed, to_date) - sum(funds::paid_back, to_date),
         "Claimed in requests through the last day, and neither paid nor retained"},
        {"retained_to_date", unit::dollars, sum(funds::retained, to_date) - sum(funds::released, to_date),
         "Retained by the agency through the last day"},
        // The lines of the Federal Financial Report (SF-425, OMB 4040-0014), cumulative, in the form's words; where the
        // grant is not federal, the Federal share is the agency's.
        {"line_10a", unit::dollars, sum(funds::payments, to_date),
         "10a Cash receipts: payments from the agency through the last day"},
        {"line_10b", unit::dollars, at_most(the("line_10a"), above_0(paid_to_date())),
         "10b Cash disbursements: costs on the grant paid by the last day and indirect costs, net of program income "
         "deducted, as far as the agency's money paid them"},
        {"line_10c", unit::dollars, the("line_10a") - the("line_10b"), "10c Cash on hand: a less b"},
        {"line_10d", unit::dollars, sum(funds::grant_budget, to_date),
         "10d Total Federal funds authorized: the budget's grant total"},
        {"line_10e", unit::dollars, the("grant_spent_to_date") + the("indirect_to_date") - the("line_10m"),
         "10e Federal share of expenditures: direct and indirect costs on the grant less m"},
        {"line_10f", unit::dollars, sum(funds::obligations, to_date),
         "10f Federal share of unliquidated obligations: until their costs are incurred"},
        {"line_10g", unit::dollars, the("line_10e") + the("line_10f"), "10g Total Federal share: sum of e and f"},
        {"line_10h", unit::dollars, the("line_10d") - the("line_10g"),
         "10h Unobligated balance of Federal funds: d less g"},
        {"line_10i", unit::dollars, match_for(the("line_10d"), sum(funds::match_budget, to_date)),
         "10i Total recipient share required: the match that goes with d"},
        {"line_10j", unit::dollars, the("match_to_date"), "10j Recipient share of expenditures: match contributed"},
        {"line_10k", unit::dollars, the("line_10i") - the("line_10j"),
         "10k Remaining recipient share to be provided: i less j"},
        {"line_10l", unit::dollars, sum(funds::income_earned, to_date), "10l Total program income earned"},
        {"line_10m", unit::dollars, sum(funds::income_deducted, to_date),
         "10m Program income expended in accordance with the deduction alternative"},
        {"line_10n", unit::dollars, sum(funds::income_added, to_date),
         "10n Program income expended in accordance with the addition alternative"},
        {"line_10o", unit::dollars,
         the("line_10l") - the("line_10m") - the("line_10n") - sum(funds::income_matched, to_date),
         "10o Unexpended program income: l less m and n, and less what was spent as match"},
        {"paid_ahead", unit::dollars, above_0(paid_to_date() - the("line_10a")),
         "Paid ahead by the program: what was paid by the last day and the agency's money did not cover yet"},
        {"on_hand_expected", unit::heft, nullptr,
         "What is on hand on the last day weighs, as the audit's model expects it"},
        {"on_hand_low", unit::heft, nullptr, "The lower end of its 95 % interval"},
        {"on_hand_high", unit::heft, nullptr, "The upper end of its 95 % interval"},
    };
}

} // namespace

const std::vector<line>& all_lines() {
    static const auto lines = make_lines();
    return lines;
}

const line& line_named(std::string_view name) {
    for (const auto& each : all_lines())
        if (each.name == name) return each;
    throw std::logic_error("no figure is called " + std::string{name});
}

std::span<const figure_name> all_figure_names() {
    static const auto names = [] {
        std::vector<figure_name> made;
        for (const auto& each : all_lines())
            made.push_back({each.name, each.meaning});
        return made;
    }();
    return names;
}

std::string name_of(unit of, quantity::weight_unit of_weight) {
    switch (of) {
    case unit::bundles:
        return "bundles";
    case unit::growers:
        return "growers";
    case unit::sites:
        return "sites";
    case unit::bales:
        return "bales";
    case unit::heft:
        return std::string{quantity::name_of(of_weight)};
    case unit::dollars:
        return "$";
    case unit::tons:
        return "tons";
    case unit::ratio:
        return "ratio";
    case unit::dollars_a_ton:
        break;
    }
    return "$/ton";
}

value value_of(const number& of, unit in) {
    if (!of.is) return {};
    const auto whole = [&](std::int64_t parts) {
        return quantity::half_up(of.is->numerator * parts, of.is->denominator);
    };
    switch (in) {
    case unit::heft:
        return weight{whole(1000)};
    case unit::dollars:
        return quantity::money{whole(100)};
    case unit::tons:
    case unit::ratio:
    case unit::dollars_a_ton:
        return quantity::nearest_double(of.is->numerator, of.is->denominator);
    default:
        return whole(1);
    }
}

} // namespace tarewell::figures
