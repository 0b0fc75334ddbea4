#include "figures/stories.hpp"

#include "reconcile/side_by_side.hpp"

#include <algorithm>
#include <set>

namespace tarewell::figures {

using namespace records; // NOLINT

namespace {

bundle_story story_of_bundle(std::size_t index, const season& of, const reconcile::reckoning& reckoned, day last) {
    const auto& bundle = of.bundles[index];
    const auto& known = reckoned.bundles[index];
    const auto& registration = of.at(bundle.registration);
    bundle_story story;
    story.bundle = bundle.id.text();
    story.registration = registration.id.text();
    story.number = bundle.number;
    story.of = bundle.of;
    story.registered_on = registration.date;
    story.estimate = known.claim.estimate;
    if (known.accepting_receipt && of.receipts[*known.accepting_receipt].date <= last) {
        const auto& receipt = of.receipts[*known.accepting_receipt];
        story.received_on = receipt.date;
        story.received_at = of.at(receipt.site).id.text();
    }
    if (!known.rejections.empty() && known.rejections.front().on <= last) {
        const auto& first = known.rejections.front();
        story.rejected_on = first.on;
        story.reason = first.by == kind::receipt ? of.receipts[first.index].reason : of.rejects[first.index].reason;
    }
    if (!known.in_bale()) return story;
    const auto& weighed = reckoned.at(known.bale).weighed;
    if (!weighed || weighed->on > last) return story;
    story.bale = of.at(known.bale).id.text();
    story.weighed_on = weighed->on;
    story.share = known.share;
    return story;
}

} // namespace

site_story story_of(site_place site, const season& of, const reconcile::reckoning& reckoned,
                    quantity::span_of_days days) {
    site_story story;
    for (const auto& line : reconcile::reconcile_by(reconcile::grouping::site, of, reckoned, days)) {
        if (line.id != of.at(site).id.text()) continue;
        story.bundles = line.received.bundles;
        story.estimate = line.received.estimate;
        story.rejected = line.rejected.bundles;
        story.scale_weight = line.scale_weight;
    }
    story.tons = quantity::short_tons(story.scale_weight, of.the_award->unit);
    std::set<grower_place> growers;
    for (const auto& receipt : of.receipts) {
        if (receipt.outcome != outcome::accepted || receipt.site != site || !days.holds(receipt.date)) continue;
        const auto grower = of.at(of.at(receipt.bundle).registration).grower;
        if (of.at(grower).id.text() != unknown_grower) growers.insert(grower);
    }
    story.growers = static_cast<std::int64_t>(growers.size());
    return story;
}

grower_story story_of(grower_place grower, const season& of, const reconcile::reckoning& reckoned, day last) {
    const auto lines =
        reconcile::reconcile_by(reconcile::grouping::grower, of, reckoned, quantity::span_of_days{day::min(), last});
    grower_story story;
    story.program_ratio = reconcile::total_of(lines).ratio();
    for (const auto& line : lines) {
        if (line.id != of.at(grower).id.text()) continue;
        story.registered = line.registered.bundles;
        story.registered_estimate = line.registered.estimate;
        story.received = line.received.bundles;
        story.received_estimate = line.received.estimate;
        story.rejected = line.rejected.bundles;
        story.weighed = line.weighed.bundles;
        story.weighed_estimate = line.weighed.estimate;
        story.share = line.scale_weight;
        story.ratio = line.ratio();
    }
    std::set<bale_place> bales;
    for (std::size_t i = 0; i < of.bundles.size(); ++i) {
        const auto& registration = of.at(of.bundles[i].registration);
        if (registration.grower != grower || registration.date > last) continue;
        story.bundles.push_back(story_of_bundle(i, of, reckoned, last));
        if (story.bundles.back().weighed_on) bales.insert(reckoned.bundles[i].bale);
    }
    story.bales = static_cast<std::int64_t>(bales.size());
    story.mixed_bales = std::count_if(bales.begin(), bales.end(), [&](bale_place bale) {
        const auto& inside = reckoned.at(bale).inside;
        return std::any_of(inside.begin(), inside.end(),
                           [&](bundle_place bundle) { return of.at(of.at(bundle).registration).grower != grower; });
    });
    return story;
}

} // namespace tarewell::figures
