#include "desk/understood.hpp"

#include "desk/answer.hpp"

#include <set>

namespace tarewell::desk {
namespace {

using namespace records; // NOLINT

class sentence_maker {
  public:
    sentence_maker(const season& of, const reconcile::reckoning& reckoned, const row& values)
        : s_{of}, r_{reckoned}, values_{values} {}

    std::string of_ticket() const {
        const auto weighs = values_["weighs"];
        if (weighs == "bale") return of_weighed_bale(s_.find_bale(values_["subject"]));
        if (weighs == "bundle") {
            const auto place = s_.find_bundle(values_["subject"]);
            return fmt::format("{}: {}, net {} {}{}", values_["ticket"], bundle(place), values_["net"], values_["unit"],
                               of_the_estimate(r_.at(place).claim.estimate));
        }
        const auto& load = s_.at(s_.find_shipment(values_["subject"]));
        return fmt::format("{}: shipment {} to {}, {}, net {} {}", values_["ticket"], load.id.text(), load.processor,
                           counted(load.bales.size(), "bale", "bales"), values_["net"], values_["unit"]);
    }
    std::string of_bale() const {
        const auto place = s_.find_bale(values_["bale"]);
        return fmt::format("{}: {}; pressed at {} on {}, now {}", values_["bale"],
                           bundle(s_.find_bundle(values_["bundle"])), values_["site"], values_["date"], inside(place));
    }
    std::string of_bundle() const {
        const auto place = s_.find_bundle(values_["bundle"]);
        const auto& claim = r_.at(place).claim;
        const auto& of = s_.at(place);
        const auto there = static_cast<std::int64_t>(s_.at(of.registration).bundles.size());
        if (there < of.of && claim.basis != basis::own)
            return fmt::format("{}, claims {} until the other {} recorded", bundle(place), shown(claim.estimate),
                               of.of - there == 1 ? std::string{"one is"} : fmt::format("{} are", of.of - there));
        return fmt::format("{}, claims {} ({})", bundle(place), shown(claim.estimate), name_of(claim.basis));
    }
    std::string of_receipt() const {
        const auto place = values_["bundle"].empty() ? s_.find_bundle(s_.find_registration(values_["registration"]),
                                                                      std::stoll(std::string{values_["number"]}))
                                                     : s_.find_bundle(values_["bundle"]);
        return fmt::format("{}: {}, {} at {} on {}", values_["receipt"], bundle(place), values_["outcome"],
                           values_["site"], values_["date"]);
    }
    std::string of_cover() const {
        const auto place = s_.find_registration(values_["registration"]);
        const auto covers = s_.at(place).covers.size();
        return fmt::format("{}: grower {} for site {}, {}, worked out at {}", values_["registration"],
                           values_["grower"], values_["site"], counted(covers, "cover", "covers"),
                           shown(worked_out_estimate(s_, place)));
    }
    std::string of_acceptance() const {
        weight shipped;
        const auto& load = s_.at(s_.find_shipment(values_["shipment"]));
        for (const auto bale : load.bales)
            if (r_.at(bale).weighed) shipped += r_.at(bale).weighed->net;
        return fmt::format("{}: {} accepted {} {} on {}; {} shipped by the bales' tickets", values_["shipment"],
                           load.processor, values_["weight"], values_["unit"], values_["date"], shown(shipped));
    }
    std::string of_cost() const {
        return fmt::format("{}: ${} of {} on {}, {}, {}", values_["cost"],
                           quantity::text_of(quantity::money_from(quantity::decimal_of(values_["amount"]))),
                           values_["category"], values_["fund"] == "grant" ? "the grant" : "match",
                           values_["description"], values_["date"]);
    }
    /// The columns that are given, under the record's name.
    std::string of_any() const {
        const auto& kind = info(values_.which);
        std::string text = fmt::format("{} {}:", kind.name, key_for_people(values_));
        const char* between = " ";
        for (std::size_t i = 0; i < kind.columns.size(); ++i) {
            if (values_[i].empty() || kind.is_key(i)) continue;
            text += fmt::format("{}{} {}", between, kind.columns[i].name, values_[i]);
            between = ", ";
        }
        return text;
    }

  private:
    [[nodiscard]] std::string shown(weight of) const {
        return fmt::format("{} {}", quantity::shortest_text({of.count(), 3}), quantity::name_of(s_.the_award->unit));
    }
    [[nodiscard]] std::string bundle(bundle_place place) const {
        const auto& of = s_.at(place);
        return fmt::format("bundle {} ({} of {}) of grower {}", of.id.text(), of.number, of.of,
                           s_.at(s_.at(of.registration).grower).id.text());
    }
    [[nodiscard]] std::string inside(bale_place place) const {
        std::set<std::size_t> growers;
        for (const auto each : r_.at(place).inside)
            growers.insert(s_.at(s_.at(each).registration).grower.index());
        return fmt::format("{} of {}", counted(r_.at(place).inside.size(), "bundle", "bundles"),
                           counted(growers.size(), "grower", "growers"));
    }
    [[nodiscard]] std::string of_the_estimate(weight estimate) const {
        if (estimate.count() <= 0) return ", without an estimate";
        const auto net = quantity::weight_from(quantity::decimal_of(values_["net"]),
                                               *quantity::read_weight_unit(values_["unit"]), s_.the_award->unit);
        return fmt::format(", {:.2f} of the estimate", quantity::nearest_double(net.count(), estimate.count()));
    }
    [[nodiscard]] std::string of_weighed_bale(bale_place place) const {
        return fmt::format("{}: bale {} from {}, {}, net {} {}{}", values_["ticket"], values_["subject"],
                           s_.at(s_.at(place).site).id.text(), inside(place), values_["net"], values_["unit"],
                           of_the_estimate(r_.at(place).estimate));
    }

    const season& s_;
    const reconcile::reckoning& r_;
    const row& values_;
};

} // namespace

std::string understood(const season& of, const reconcile::reckoning& reckoned, const ledger::stored_row& stored) {
    const sentence_maker make{of, reckoned, stored.values};
    if (!of.the_award) return make.of_any();
    switch (stored.values.which) {
    case kind::ticket:
        return make.of_ticket();
    case kind::bale:
        return make.of_bale();
    case kind::bundle:
        return make.of_bundle();
    case kind::receipt:
        return make.of_receipt();
    case kind::cover:
        return make.of_cover();
    case kind::acceptance:
        return make.of_acceptance();
    case kind::cost:
        return make.of_cost();
    default:
        return make.of_any();
    }
}

} // namespace tarewell::desk
