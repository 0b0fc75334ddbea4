#include "figures/audit_input.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <stdexcept>

namespace tarewell::figures {
namespace {

using namespace records; // NOLINT

/// Numbers places as they come, so that the audit's indices have no gaps.
template <class Place> class numbering {
  public:
    int of(Place place) {
        const auto [found, fresh] = number_.try_emplace(place, static_cast<int>(places_.size()));
        if (fresh) places_.push_back(place);
        return found->second;
    }
    [[nodiscard]] std::vector<Place> places() && { return std::move(places_); }

  private:
    std::map<Place, int> number_;
    std::vector<Place> places_;
};

class input_maker {
  public:
    input_maker(const season& of, const reconcile::reckoning& reckoned, std::optional<quantity::span_of_days> days)
        : s_{of}, r_{reckoned}, days_{days.value_or(quantity::span_of_days{day::min(), day::max()})} {}

    audit_input run() && {
        weighed_bales();
        on_hand();
        made_.season.growers = count_of(growers_, made_.growers);
        made_.season.sites = count_of(sites_, made_.sites);
        made_.season.bases = count_of(bases_, made_.bases);
        take_off_spots();
        return std::move(made_);
    }

  private:
    const season& s_;
    const reconcile::reckoning& r_;
    quantity::span_of_days days_;
    audit_input made_;
    numbering<grower_place> growers_;
    numbering<site_place> sites_;
    numbering<basis> bases_;
    std::vector<audit::spot_weight> spots_;

    template <class Place> static int count_of(numbering<Place>& of, std::vector<Place>& to) {
        to = std::move(of).places();
        return static_cast<int>(to.size());
    }

    [[nodiscard]] double division_of(const ticket& weighed) const {
        const auto& on = s_.at(weighed.scale);
        return as_real(quantity::weight_from(on.division, on.unit, s_.the_award->unit));
    }

    /// A bale that shares its load's ticket is no weighing of its own: the sharing bales are one row together.
    void weighed_bales() {
        std::map<shipment_place, int> row_of_load;
        for (std::size_t i = 0; i < s_.bales.size(); ++i) {
            const auto& bale = r_.bales[i];
            if (!bale.weighed || !days_.holds(bale.weighed->on)) continue;
            int row = static_cast<int>(made_.rows.size());
            bool fresh = true;
            if (bale.weighed->by_load) {
                const auto [found, first] = row_of_load.try_emplace(bale.shipment, row);
                row = found->second;
                fresh = first;
            }
            if (fresh) {
                const auto what = bale.weighed->by_load ? audit_row::kind::load : audit_row::kind::bale;
                made_.rows.push_back({what,
                                      bale_place{i},
                                      what == audit_row::kind::load ? bale.shipment : shipment_place{},
                                      {},
                                      bale.weighed->on,
                                      bale.weighed->ticket});
                made_.season.bales.push_back({0.0, division_of(s_.tickets[bale.weighed->ticket])});
                net_.emplace_back();
            }
            net_[static_cast<std::size_t>(row)] += bale.weighed->net;
            made_.weighed += bale.weighed->net;
            for (const auto bundle : bale.inside)
                add_bundle(bundle, row);
        }
        for (std::size_t k = 0; k < net_.size(); ++k)
            made_.season.bales[k].net = as_real(net_[k]);
    }

    void on_hand() {
        for (std::size_t i = 0; i < s_.bundles.size(); ++i) {
            const auto& bundle = r_.bundles[i];
            if (!bundle.accepting_receipt) continue;
            const auto& receipt = s_.receipts[*bundle.accepting_receipt];
            if (receipt.date > days_.to) continue;
            const bool rejected_since =
                std::any_of(bundle.rejections.begin(), bundle.rejections.end(), [&](const reconcile::rejection& each) {
                    return each.on >= receipt.date && each.on <= days_.to;
                });
            const bool weighed =
                bundle.in_bale() && r_.at(bundle.bale).weighed && r_.at(bundle.bale).weighed->on <= days_.to;
            if (rejected_since || weighed) continue;
            made_.on_hand_receipts.push_back(*bundle.accepting_receipt);
            made_.on_hand.push_back(bundle_place{i});
            add_bundle(bundle_place{i}, -1);
        }
    }

    void add_bundle(bundle_place which, int row) {
        const auto& outcome = r_.at(which);
        const auto& registered = s_.at(s_.at(which).registration);
        const auto site = outcome.accepting_receipt ? s_.receipts[*outcome.accepting_receipt].site : registered.site;
        if (outcome.spot_ticket && s_.tickets[*outcome.spot_ticket].date <= days_.to) {
            const auto& spot = s_.tickets[*outcome.spot_ticket];
            spots_.push_back({static_cast<int>(made_.bundles.size()), as_real(spot.net_weight), division_of(spot)});
            if (row < 0) made_.on_hand_spot += spot.net_weight;
        }
        made_.season.bundles.push_back({row, growers_.of(registered.grower), sites_.of(site),
                                        bases_.of(outcome.claim.basis), as_real(outcome.claim.estimate)});
        made_.bundles.push_back(which);
    }

    void take_off_spots() {
        if (spots_.empty()) return;
        auto taken = audit::take_off_spot_weights(made_.season, spots_);
        std::vector<audit_row> rows;
        std::map<int, int> row_now;
        for (const int was : taken.bale_was) {
            if (was >= 0) row_now[was] = static_cast<int>(rows.size());
            rows.push_back(was >= 0 ? made_.rows[static_cast<std::size_t>(was)] : audit_row{audit_row::kind::bundle});
        }
        for (const auto& spot : spots_) {
            const auto index = static_cast<std::size_t>(spot.bundle);
            const auto bundle = made_.bundles[index];
            auto& row = rows[static_cast<std::size_t>(taken.season.bundles[index].bale)];
            row.bundle = bundle;
            row.bale = r_.at(bundle).in_bale() ? r_.at(bundle).bale : bale_place{};
            row.ticket = *r_.at(bundle).spot_ticket;
            row.on = s_.tickets[row.ticket].date;
            const int was = made_.season.bundles[index].bale;
            if (const auto rest = row_now.find(was); rest != row_now.end())
                rows[static_cast<std::size_t>(rest->second)].spots_taken_off = true;
        }
        made_.findings = std::move(taken.findings);
        for (auto& each : made_.findings)
            if (const auto now = row_now.find(each.item); now != row_now.end())
                each.item = now->second;
            else
                each.item = -1;
        made_.rows = std::move(rows);
        made_.season = std::move(taken.season);
        leave_out_overdrawn();
    }

    /// Where spot weights pass their bale's net the model leaves the rest out and would take its bundles for ones on
    /// hand; they are weighed, so they claim nothing.
    void leave_out_overdrawn() {
        for (auto& bundle : made_.season.bundles)
            if (bundle.bale >= 0 && made_.season.bales[static_cast<std::size_t>(bundle.bale)].net < 0)
                bundle.estimate = 0;
    }

    std::vector<weight> net_; ///< of the rows before spot weights are taken off
};

} // namespace

double as_real(quantity::weight value) { return quantity::nearest_double(value.count(), 1000); }

quantity::weight as_weight(double value) {
    const double thousandths = std::floor(value * 1000.0 + 0.5);
    if (!(std::abs(thousandths) < 9e18)) throw std::overflow_error("a weight passes what can be held");
    return quantity::weight{static_cast<std::int64_t>(thousandths)};
}

audit::pooled_options audit_options() {
    audit::pooled_options options;
    options.include_division = false;
    return options;
}

audit_input audit_input_of(const season& of, const reconcile::reckoning& reckoned,
                           std::optional<quantity::span_of_days> days) {
    return input_maker{of, reckoned, days}.run();
}

} // namespace tarewell::figures
