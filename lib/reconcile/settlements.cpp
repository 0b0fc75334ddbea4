#include "reconcile/settlements.hpp"

namespace tarewell::reconcile {
namespace {

using namespace records; // NOLINT

/// In the award's unit, rounded half up once, as every weight.
std::optional<weight> in_award_unit(const std::optional<quantity::decimal>& of, const acceptance& made,
                                    const season& season) {
    if (!of) return std::nullopt;
    return quantity::weight_from(*of, made.unit, season.the_award->unit);
}

void add_paper(settlement& to, const acceptance& made, const season& season) {
    to.accepted = &made;
    to.received = in_award_unit(made.received, made, season);
    to.rejected = in_award_unit(made.rejected, made, season);
    to.asked = asked_for(made);
}

} // namespace

std::optional<weight> settlement::rejected_weight() const {
    if (rejected) return rejected;
    if (received && *received > accepted->accepted_weight) return *received - accepted->accepted_weight;
    if (rejected_by_it.count() > 0) return rejected_by_it;
    return received ? std::optional{weight{}} : std::nullopt;
}

bool settlement::is_open() const {
    if (!asked || asked->count() == 0) return false;
    return accepted->charge ? costs.empty() : incomes.empty();
}

std::string processor_key(std::string_view name) {
    std::string key;
    for (const char c : name) {
        if (c >= 'A' && c <= 'Z')
            key += static_cast<char>(c - 'A' + 'a');
        else if ((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || static_cast<unsigned char>(c) >= 0x80)
            key += c;
    }
    return key;
}

std::vector<settlement> settlements_of(const season& of, const reckoning& reckoned) {
    std::vector<settlement> made(of.shipments.size());
    for (std::size_t i = 0; i < made.size(); ++i) {
        made[i].shipment = shipment_place{i};
        made[i].bales = of.shipments[i].bales.size();
        for (const auto bale : of.shipments[i].bales) {
            const auto& outcome = reckoned.at(bale);
            if (outcome.weighed)
                made[i].shipped += outcome.weighed->net;
            else
                ++made[i].unweighed;
            made[i].residue += outcome.residue;
        }
    }
    for (const auto& each : reckoned.residues)
        if (const auto shipment = reckoned.at(each.bale).shipment;
            shipment && of.rejects[each.reject].stage == stage::processor)
            made[shipment.index()].rejected_by_it += each.counted;
    for (const auto& each : of.acceptances)
        add_paper(made[each.shipment.index()], each, of);
    for (const auto& each : of.incomes) {
        if (!each.shipment) continue;
        auto& into = made[each.shipment.index()];
        into.incomes.push_back(&each);
        into.earned += each.amount;
    }
    for (const auto& each : of.costs) {
        if (!each.shipment) continue;
        auto& into = made[each.shipment.index()];
        into.costs.push_back(&each);
        into.spent += each.amount;
        if (processor_key(each.payee) == processor_key(of.at(each.shipment).processor)) into.charged += each.amount;
    }
    return made;
}

} // namespace tarewell::reconcile
