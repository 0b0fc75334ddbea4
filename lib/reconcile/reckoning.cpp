#include "reconcile/reckoning.hpp"

#include "estimate/share.hpp"
#include "quantity/large_room.hpp"
#include "reconcile/ahead.hpp"

#include <algorithm>
#include <numeric>
#include <tuple>

namespace tarewell::reconcile {
namespace {

using namespace records; // NOLINT

/// One pass of reckoning; the steps stand in the order in which each needs the one before.
class reckoner {
  public:
    explicit reckoner(const season& of) : s_{of} {
        quantity::make_large_room(r_.bundles, s_.bundles.size());
        r_.bundles.resize(s_.bundles.size());
        r_.bales.resize(s_.bales.size());
        load_ticket_.resize(s_.shipments.size());
        load_left_.resize(s_.shipments.size());
    }

    reckoning run() && {
        take_claims();
        place_bundles();
        choose_tickets();
        date_bales();
        collect_rejections();
        pull_rejected();
        share_loads();
        share_bales();
        count_residue();
        return std::move(r_);
    }

  private:
    const season& s_;
    reckoning r_;
    std::vector<std::optional<std::size_t>> load_ticket_; ///< by shipment: the first load ticket
    std::vector<weight> load_left_;                       ///< by shipment: for bales without a ticket
    // The memory of one bale's sharing, for the next.
    estimate::sharer sharer_;
    std::vector<std::int64_t> parts_;
    std::vector<bundle_place> without_;

    bundle_outcome& at(bundle_place p) { return r_.bundles[p.index()]; }
    bale_outcome& at(bale_place p) { return r_.bales[p.index()]; }

    void take_claims() {
        const auto claims = claims_of(s_);
        for (std::size_t i = 0; i < claims.size(); ++i)
            r_.bundles[i].claim = claims[i];
    }

    void place_bundles() {
        const auto outcome_of = [&](const auto& row) { return &at(row.bundle); };
        for_each_ahead(s_.receipts, outcome_of, [&](const receipt& each, std::size_t i) {
            if (each.outcome == outcome::accepted) at(each.bundle).accepting_receipt = i;
        });
        for_each_ahead(s_.bale_rows, outcome_of,
                       [&](const bale_row& pressed, std::size_t) { at(pressed.bundle).bale = pressed.bale; });
        for (const auto& loaded : s_.shipment_rows)
            at(loaded.bale).shipment = loaded.shipment;
    }

    /// The first ticket in force on each thing: earliest date, then order of entry.
    void choose_tickets() {
        std::vector<std::size_t> order(s_.tickets.size());
        std::iota(order.begin(), order.end(), std::size_t{0});
        std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
            return std::tuple{s_.tickets[a].date, s_.tickets[a].order} <
                   std::tuple{s_.tickets[b].date, s_.tickets[b].order};
        });
        for (const auto index : order) {
            const auto& ticket = s_.tickets[index];
            if (ticket.weighs == subject::bundle) {
                auto& spot = at(ticket.bundle).spot_ticket;
                if (!spot) spot = index;
            } else if (ticket.weighs == subject::bale) {
                auto& weighed = at(ticket.bale).weighed;
                if (!weighed)
                    weighed = weighing{ticket.date, ticket.net_weight, index, false};
                else
                    r_.check_tickets.push_back(index);
            } else {
                auto& first = load_ticket_[ticket.load.index()];
                if (!first)
                    first = index;
                else
                    r_.check_tickets.push_back(index);
            }
        }
    }

    /// Bales without a ticket of their own are weighed with their load, if it leaves them anything.
    void date_bales() {
        for (std::size_t i = 0; i < s_.shipments.size(); ++i) {
            if (!load_ticket_[i]) continue;
            const auto& ticket = s_.tickets[*load_ticket_[i]];
            load_left_[i] = ticket.net_weight;
            std::size_t without = 0;
            for (const auto bale : s_.shipments[i].bales) {
                if (at(bale).weighed)
                    load_left_[i] -= at(bale).weighed->net;
                else
                    ++without;
            }
            if (without == 0) {
                r_.check_tickets.push_back(*load_ticket_[i]);
                continue;
            }
            if (load_left_[i].count() <= 0) {
                r_.empty_loads.push_back(*load_ticket_[i]);
                continue;
            }
            for (const auto bale : s_.shipments[i].bales)
                if (!at(bale).weighed) at(bale).weighed = weighing{ticket.date, weight{}, *load_ticket_[i], true};
        }
    }

    [[nodiscard]] std::optional<day> weighed_on(bale_place bale) const {
        if (!bale || !r_.at(bale).weighed) return std::nullopt;
        return r_.at(bale).weighed->on;
    }

    void collect_rejections() {
        for (std::size_t i = 0; i < s_.receipts.size(); ++i) {
            const auto& receipt = s_.receipts[i];
            if (receipt.outcome != outcome::rejected) continue;
            const auto weighed = weighed_on(at(receipt.bundle).bale);
            if (weighed && receipt.date > *weighed)
                r_.late_receipts.push_back(i);
            else
                at(receipt.bundle).rejections.push_back({receipt.date, receipt.order, kind::receipt, i});
        }
        for (std::size_t i = 0; i < s_.rejects.size(); ++i)
            collect_reject(i);
        for (auto& bundle : r_.bundles)
            std::sort(bundle.rejections.begin(), bundle.rejections.end(), [](const rejection& a, const rejection& b) {
                return std::tuple{a.on, a.order} < std::tuple{b.on, b.order};
            });
    }

    void collect_reject(std::size_t index) {
        const auto& reject = s_.rejects[index];
        const auto bale = reject.bale ? reject.bale : at(reject.bundle).bale;
        const auto weighed = weighed_on(bale);
        if (weighed && reject.date >= *weighed) {
            r_.residues.push_back({index, bale, reject.date, {}, {}});
            return;
        }
        const rejection found{reject.date, reject.order, kind::reject, index};
        if (reject.bale) {
            if (reject.stage == stage::baler && !reject.rejected_weight)
                for (const auto bundle : s_.at(bale).bundles)
                    at(bundle).rejections.push_back(found);
            else
                r_.weightless_rejects.push_back(index);
            return;
        }
        const bool part_of_unweighed_bale = bale && reject.rejected_weight;
        if (reject.stage == stage::processor || part_of_unweighed_bale)
            r_.weightless_rejects.push_back(index);
        else
            at(reject.bundle).rejections.push_back(found);
    }

    /// Rejected since its acceptance (the same day counts) and before its bale was weighed.
    void pull_rejected() {
        for (auto& bundle : r_.bundles) {
            if (!bundle.bale || !bundle.accepting_receipt) continue;
            const auto accepted = s_.receipts[*bundle.accepting_receipt].date;
            const auto weighed = weighed_on(bundle.bale);
            bundle.pulled = std::any_of(bundle.rejections.begin(), bundle.rejections.end(), [&](const rejection& each) {
                return each.on >= accepted && (!weighed || each.on < *weighed);
            });
        }
        for (std::size_t i = 0; i < s_.bales.size(); ++i) {
            fetch_bundles_of(i + 2);
            r_.bales[i].inside.reserve(s_.bales[i].bundles.size());
            for (const auto bundle : s_.bales[i].bundles) {
                if (at(bundle).pulled) continue;
                r_.bales[i].inside.push_back(bundle);
                r_.bales[i].estimate += at(bundle).claim.estimate;
            }
            std::sort(r_.bales[i].inside.begin(), r_.bales[i].inside.end(),
                      [&](bundle_place a, bundle_place b) { return s_.at(a).id < s_.at(b).id; });
        }
    }

    /// Of a bale some bales ahead (ahead.hpp).
    void fetch_bundles_of(std::size_t bale) const {
        if (bale >= s_.bales.size()) return;
        for (const auto bundle : s_.bales[bale].bundles) {
            __builtin_prefetch(&r_.bundles[bundle.index()]);
            __builtin_prefetch(&s_.bundles[bundle.index()]);
        }
    }

    void share_loads() {
        for (std::size_t i = 0; i < s_.shipments.size(); ++i) {
            std::vector<bale_place> sharing;
            for (const auto bale : s_.shipments[i].bales)
                if (at(bale).weighed && at(bale).weighed->by_load) sharing.push_back(bale);
            std::sort(sharing.begin(), sharing.end(),
                      [&](bale_place a, bale_place b) { return s_.at(a).id < s_.at(b).id; });
            std::vector<std::int64_t> parts;
            for (const auto bale : sharing)
                parts.push_back(at(bale).estimate.count());
            const auto shares = estimate::shared_out(load_left_[i].count(), parts);
            for (std::size_t b = 0; b < sharing.size(); ++b)
                at(sharing[b]).weighed->net = weight{shares[b]};
        }
    }

    void share_bales() {
        for (std::size_t i = 0; i < r_.bales.size(); ++i) {
            fetch_bundles_of(i + 2);
            if (r_.bales[i].weighed) share_bale(r_.bales[i]);
        }
    }

    void share_bale(const bale_outcome& bale) {
        const auto spot_of = [&](bundle_place p) -> std::optional<weight> {
            const auto& ticket = at(p).spot_ticket;
            return ticket ? std::optional{s_.tickets[*ticket].net_weight} : std::nullopt;
        };
        weight left = bale.weighed->net;
        auto& without = without_;
        without.clear();
        for (const auto bundle : bale.inside) {
            if (const auto spot = spot_of(bundle))
                left -= *spot;
            else
                without.push_back(bundle);
        }
        const bool all_share = without.empty() || left.count() <= 0;
        const auto& sharing = all_share ? bale.inside : without;
        auto& parts = parts_;
        parts.clear();
        for (const auto bundle : sharing)
            parts.push_back(spot_of(bundle).value_or(at(bundle).claim.estimate).count());
        const auto& shares = sharer_.share((all_share ? bale.weighed->net : left).count(), parts);
        if (!all_share)
            for (const auto bundle : bale.inside)
                at(bundle).share = spot_of(bundle);
        for (std::size_t i = 0; i < sharing.size(); ++i)
            at(sharing[i]).share = weight{shares[i]};
    }

    /// Residue never passes its bale's net: by date, then order of entry.
    void count_residue() {
        std::erase_if(r_.residues, [&](const residue& each) {
            const auto& reject = s_.rejects[each.reject];
            const bool pulled_before = reject.bundle && at(reject.bundle).pulled;
            if (pulled_before) r_.weightless_rejects.push_back(each.reject);
            return pulled_before;
        });
        std::sort(r_.residues.begin(), r_.residues.end(), [&](const residue& a, const residue& b) {
            return std::tuple{a.on, s_.rejects[a.reject].order} < std::tuple{b.on, s_.rejects[b.reject].order};
        });
        for (auto& each : r_.residues) {
            const auto& reject = s_.rejects[each.reject];
            auto& bale = at(each.bale);
            each.asked = reject.rejected_weight
                             ? *reject.rejected_weight
                             : (reject.bundle ? at(reject.bundle).share.value_or(weight{}) : bale.weighed->net);
            each.counted = std::min(each.asked, bale.weighed->net - bale.residue);
            bale.residue += each.counted;
        }
    }
};

} // namespace

reckoning reckon(const season& of) { return reckoner{of}.run(); }

} // namespace tarewell::reconcile
