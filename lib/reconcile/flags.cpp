#include "reconcile/flags.hpp"

#include "reconcile/flag_maker.hpp"

#include <algorithm>
#include <tuple>

namespace tarewell::reconcile {
namespace {

constexpr flag_code codes[] = {
    {"never-received", "a registered bundle has no receipt", false},
    {"number-missing", "a registration has fewer bundles than its labels say", false},
    {"no-label", "a bundle was found without a label", false},
    {"other-site", "a bundle arrived at another site than registered", false},
    {"not-unloaded", "a bundle was loaded and has no receipt or bale where it was taken", false},
    {"film-off-list", "the film is not on the program's list", false},
    {"baled-not-received", "a bundle is in a bale and was never accepted", true},
    {"baled-before-received", "a bundle is in a bale made before it was accepted", false},
    {"not-weighed", "a bale has no weight", false},
    {"weighed-before-made", "a bale was weighed before it was made", false},
    {"shipped-before-made", "a bale was shipped before it was made", false},
    {"estimate-off", "the scale differs from the estimate by more than the tolerance", false},
    {"density-impossible", "a bale is heavier than solid film of its size, or too light", false},
    {"net-as-printed", "a ticket prints a net that is not gross less tare", true},
    {"off-division", "a net is not a multiple of the scale's division", false},
    {"over-capacity", "a weight is above the scale's capacity", false},
    {"other-unit", "a ticket's unit is not its scale's", false},
    {"certificate", "the scale was out of certification on the day", false},
    {"below-minimum", "a net is below the scale's sensible minimum load", false},
    {"check-weight-off", "a check weight differs by more than the scales' tolerances", false},
    {"load-off", "a load's ticket differs from its bales' by more than the scales' tolerances", false},
    {"load-empty", "a load's ticket leaves nothing for its unweighed bales", true},
    {"rejected", "material was rejected, with its cause and what became of it", false},
    {"reject-without-weight", "a reject rejects nothing and weighs nothing", true},
    {"late-rejection", "a receipt rejects a bundle whose bale was weighed before", true},
    {"residue-capped", "more was rejected out of a bale than it weighed", true},
    {"outside-award", "a date is outside the award's", false},
    {"no-budget-line", "a cost's category has no line in the budget", false},
    {"over-budget", "costs of a category pass its budget line", false},
    {"no-document", "a cost has no document", false},
    {"hours-not-signed", "volunteer hours have no signed sheet", false},
    {"hours-in-day", "one person's hours on a day are more than a day has", true},
    {"match-twice", "an in-kind contribution or cost is counted as match and counted once more", true},
    {"match-source", "match comes from the grant's own source, or is federal", false},
    {"rate-above-table", "an in-kind rate is above the table of rates", false},
    {"request-overpaid", "more was paid of a request than it claimed", false},
    {"retainage-overpaid", "more was released than the agency had withheld", false},
    {"money-out-of-order", "a request is dated before its cost, or a liquidation before its obligation", false},
    {"income-overspent", "more program income was spent than earned", false},
    {"indirect-not-counted", "an indirect cost is in no figure, since the award has no percent", true},
};

} // namespace

std::span<const flag_code> flag_codes() { return codes; }

bool stops_closing(std::string_view code) {
    return std::any_of(std::begin(codes), std::end(codes),
                       [&](const flag_code& each) { return each.code == code && each.stops_closing; });
}

std::vector<flag> flags_of(const records::season& season, const reckoning& reckoned) {
    if (!season.the_award) return {};
    flag_maker maker{season, reckoned};
    maker.look_at_bundles();
    maker.look_at_bales();
    maker.look_at_tickets();
    maker.look_at_rejects();
    maker.look_at_money();
    maker.look_at_dates();
    auto flags = std::move(maker).flags();
    const auto rank = [](std::string_view code) {
        return std::find_if(std::begin(codes), std::end(codes),
                            [&](const flag_code& each) { return each.code == code; }) -
               std::begin(codes);
    };
    std::stable_sort(flags.begin(), flags.end(), [&](const flag& a, const flag& b) {
        return std::tuple{rank(a.code), a.on, a.subject} < std::tuple{rank(b.code), b.on, b.subject};
    });
    return flags;
}

std::vector<flag> flags_in(std::vector<flag> flags, quantity::span_of_days days) {
    std::erase_if(flags, [&](const flag& each) { return !days.holds(each.on); });
    return flags;
}

} // namespace tarewell::reconcile
