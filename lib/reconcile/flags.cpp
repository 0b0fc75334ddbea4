#include "reconcile/flags.hpp"

#include "reconcile/flag_maker.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>
#include <tuple>
#include <unordered_map>

namespace tarewell::reconcile {
namespace {

using enum flag_level;

constexpr flag_code codes[] = {
    {"never-received", "a registered bundle has no receipt though its days to be handed in are over", question},
    {"number-missing", "a registration has fewer bundles than its labels say", question},
    {"claimed-by-count", "a registration's covers have no sizes, and each bundle claims the usual weight", question},
    {"no-label", "a bundle was found without a label", note},
    {"received-before-registered", "a bundle was received before the day of its registration", question},
    {"other-site", "a bundle arrived at another site than registered", note},
    {"not-unloaded", "a bundle was loaded and seen no more where it was taken", question},
    {"film-off-list", "the film is not on the program's list", question},
    {"claim-over-maximum", "a bundle claims more than a bundle's maximum weight", question},
    {"claim-over-twice-maximum", "a bundle claims more than twice a bundle's maximum weight", blocks},
    {"baled-not-received", "a bundle is in a bale and was never accepted", blocks},
    {"baled-before-received", "a bundle is in a bale made before it was accepted", question},
    {"spot-before-received", "a bundle was weighed alone before it was received", question},
    {"not-weighed", "a bale has no weight", question},
    {"weighed-before-made", "a bale was weighed before it was made", question},
    {"shipped-before-made", "a bale was shipped before it was made", question},
    {"estimate-off", "the scale differs from the estimate by more than the tolerance", question},
    {"net-far-from-claim", "a bale's net is so far from its estimate that the ticket is in doubt", blocks},
    {"net-in-doubt", "a bale's net is not what the other tickets let expect", question},
    {"net-unexpected", "a bale's net is far from what the other tickets let expect", blocks},
    {"density-impossible", "a bale is heavier than solid film of its size", blocks},
    {"density-low", "a bale is lighter than the program's least density", question},
    {"net-as-printed", "a ticket prints a net that is not gross less tare", blocks},
    {"ticket-twice", "one printed ticket of a scale is recorded twice", blocks},
    {"off-division", "a net is not a multiple of its scale's division", question},
    {"over-capacity", "a weight is above the scale's capacity, within its tolerance", question},
    {"beyond-capacity", "a weight is above the scale's capacity by more than its tolerance", blocks},
    {"other-unit", "a ticket's unit is not its scale's", question},
    {"certificate", "the scale was out of certification on the day", question},
    {"below-minimum", "a net is below the scale's sensible minimum load", question},
    {"check-weight-off", "a check weight differs by more than the scales' tolerances", question},
    {"weighed-again", "a second ticket on a bale says the same net as the one that decides its weight", question},
    {"check-weight", "a bale was weighed once more, within the scales' tolerances", note},
    {"load-off", "a load's ticket differs from its bales' by more than the scales' tolerances", question},
    {"load-empty", "a load's ticket leaves nothing for its unweighed bales", blocks},
    {"rejected", "material was rejected, with its cause and what became of it", note},
    {"reject-without-weight", "a reject rejects nothing and weighs nothing", blocks},
    {"late-rejection", "a receipt rejects a bundle whose bale was weighed before", blocks},
    {"residue-capped", "more was rejected out of a bale than it weighed", blocks},
    {"whole-bale-rejected", "a reject without a weight takes a whole bale off", question},
    {"accepted-below-shipped", "a processor accepted less than was shipped, beyond the tolerance", question},
    {"accepted-above-shipped", "a processor accepted more than was shipped, beyond the tolerance", blocks},
    {"received-off-shipped", "a processor's scale differs from what was shipped by more than the tolerance", question},
    {"settlement-off", "what is recorded of a shipment is not its price or charge times the accepted weight", question},
    {"not-settled", "a shipment was accepted at a price or charge, and no income or cost of it is recorded", note},
    {"outside-award", "a date is outside the award's", question},
    {"dated-after-entry", "a date is after the day on which it was recorded", blocks},
    {"grower-twice", "two growers have one name, e-mail address or telephone number", question},
    {"no-budget-line", "a cost's category has no line in the budget", question},
    {"over-budget", "costs of a category pass its budget line", question},
    {"no-document", "a cost has no document", question},
    {"cost-twice", "one document of a payee is recorded twice with the same amount", blocks},
    {"income-twice", "one document of a payer is recorded twice with the same amount", blocks},
    {"disallowed", "a cost that the agency disallowed is taken back", note},
    {"disallowed-above-cost", "more of a cost is taken back than it was", blocks},
    {"disallowed-not-returned", "a disallowed cost was claimed, and neither a later request nor a refund returns it", question},
    {"hours-not-signed", "volunteer hours have no signed sheet", question},
    {"hours-in-day", "one person's hours on a day are more than a day has", blocks},
    {"match-twice", "an in-kind contribution or cost is counted as match and counted once more", blocks},
    {"match-source", "match comes from the grant's own source, or is federal", question},
    {"rate-above-table", "an in-kind rate is above the table of rates", question},
    {"request-overpaid", "more was paid of a request than it claimed", question},
    {"retainage-overpaid", "more was released than the agency had withheld", question},
    {"money-out-of-order", "a request is dated before its cost, or a liquidation before its obligation", question},
    {"income-overspent", "more program income was spent than earned", question},
    {"income-as-match", "program income is spent as match, which takes the agency's prior approval", question},
    {"claimed-not-paid", "a request claims a cost that was not paid by its day", question},
    {"claimed-and-income", "program income paid a cost that was claimed before", question},
    {"paid-above-award", "the agency paid more than the budget grants", question},
    {"excess-advance", "an advance is on hand past three business days' need", question},
    {"refunded", "money went back to the agency", note},
    {"indirect-not-counted", "an indirect cost is in no figure, since the award has no percent", blocks},
};

const flag_code* find(std::string_view code) {
    static const auto places = [] {
        std::unordered_map<std::string_view, const flag_code*> made;
        for (const auto& each : codes)
            made.emplace(each.code, &each);
        return made;
    }();
    const auto found = places.find(code);
    return found == places.end() ? nullptr : found->second;
}

} // namespace

std::span<const flag_code> flag_codes() { return codes; }

std::string_view name_of(flag_level level) {
    return level == note ? "note" : level == question ? "question" : "blocks closing";
}

flag_level level_of(std::string_view code) {
    const auto* found = find(code);
    if (found == nullptr) throw std::logic_error(fmt::format("no flag is called '{}'", code));
    return found->level;
}

bool blocks_closing(std::string_view code) {
    const auto* found = find(code);
    return found != nullptr && found->level == blocks;
}

std::vector<flag> flags_of_paper(const records::season& season, const reckoning& reckoned) {
    if (!season.the_award) return {};
    flag_maker maker{season, reckoned};
    maker.look_at_bundles();
    maker.look_at_bales();
    maker.look_at_tickets();
    maker.look_at_rejects();
    maker.look_at_acceptances();
    maker.look_at_settlements();
    maker.look_at_money();
    maker.look_at_dates();
    maker.look_at_growers();
    auto flags = std::move(maker).flags();
    put_in_order(flags);
    return flags;
}

void put_in_order(std::vector<flag>& flags) {
    std::stable_sort(flags.begin(), flags.end(), [](const flag& a, const flag& b) {
        return std::tuple{find(a.code), a.on, a.subject} < std::tuple{find(b.code), b.on, b.subject};
    });
}

std::vector<flag> flags_in(std::vector<flag> flags, quantity::span_of_days days) {
    std::erase_if(flags, [&](const flag& each) { return !days.holds(each.on); });
    return flags;
}

} // namespace tarewell::reconcile
