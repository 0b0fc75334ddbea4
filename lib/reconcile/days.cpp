#include "reconcile/days.hpp"

#include <algorithm>

namespace tarewell::reconcile {

using namespace records; // NOLINT

std::optional<day> left_on(const season& of, const reckoning& reckoned, bundle_place bundle) {
    const auto& known = reckoned.at(bundle);
    if (!known.accepting_receipt) return std::nullopt;
    const auto received = of.receipts[*known.accepting_receipt].date;
    std::optional<day> left;
    for (const auto& each : known.rejections)
        if (each.on >= received && (!left || each.on < *left)) left = each.on;
    if (!known.in_bale()) return left;
    const auto& weighed = reckoned.at(known.bale).weighed;
    return weighed && (!left || weighed->on < *left) ? weighed->on : left;
}

std::optional<day> shipped_on(const season& of, const reckoning& reckoned, bale_place bale) {
    const auto shipment = reckoned.at(bale).shipment;
    return shipment ? std::optional{of.at(shipment).date} : std::nullopt;
}

std::optional<day> shipped_and_weighed_on(const season& of, const reckoning& reckoned, bale_place bale) {
    const auto& weighed = reckoned.at(bale).weighed;
    const auto shipped = shipped_on(of, reckoned, bale);
    return weighed && shipped ? std::optional{std::max(weighed->on, *shipped)} : std::nullopt;
}

std::optional<day> accepted_on(const season& of, const reckoning& reckoned, bale_place bale) {
    const auto shipment = reckoned.at(bale).shipment;
    return shipment ? of.at(shipment).accepted_on : std::nullopt;
}

std::optional<day> counted_on(const season& of, const reckoning& reckoned, bale_place bale) {
    const auto counted_when = of.the_award->counted_when;
    if (counted_when == counting::shipped) return shipped_and_weighed_on(of, reckoned, bale);
    if (counted_when == counting::accepted) return accepted_on(of, reckoned, bale);
    const auto& weighed = reckoned.at(bale).weighed;
    return weighed ? std::optional{weighed->on} : std::nullopt;
}

std::optional<day> counted_on(const season& of, const reckoning& reckoned, const residue& each) {
    const auto counted_when = of.the_award->counted_when;
    if (counted_when == counting::accepted) {
        const auto accepted = accepted_on(of, reckoned, each.bale);
        const bool since = of.rejects[each.reject].stage == stage::processor && accepted && each.on > *accepted;
        return since ? std::optional{each.on} : std::nullopt;
    }
    if (counted_when == counting::weighed) return each.on;
    const auto shipped = shipped_on(of, reckoned, each.bale);
    return shipped ? std::optional{std::max(each.on, *shipped)} : std::nullopt;
}

std::optional<weight> shipped_weight(const season& of, const reckoning& reckoned, const acceptance& made) {
    weight shipped;
    for (const auto bale : of.at(made.shipment).bales) {
        if (!reckoned.at(bale).weighed) return std::nullopt;
        shipped += reckoned.at(bale).weighed->net;
    }
    for (const auto& each : reckoned.residues)
        if (reckoned.at(each.bale).shipment == made.shipment && each.on <= made.date) shipped -= each.counted;
    return shipped;
}

} // namespace tarewell::reconcile
