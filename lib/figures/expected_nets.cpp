#include "figures/expected_nets.hpp"

#include "figures/fair_audit.hpp"

#include <fmt/format.h>

#include <map>

namespace tarewell::figures {
namespace {

using namespace records; // NOLINT

double real_setting(const season& of, const char* name, day on) {
    return quantity::nearest_double(of.number_on(name, on));
}

/// The bales with a ticket of their own, as the audit has them.
class weighed_bales {
  public:
    weighed_bales(const season& of, const reconcile::reckoning& reckoned) : s_{of}, r_{reckoned} {
        for (std::size_t i = 0; i < s_.bales.size(); ++i) {
            const auto& weighed = r_.bales[i].weighed;
            if (!weighed || weighed->by_load) continue;
            for (const auto bundle : r_.bales[i].inside)
                add(bundle, static_cast<int>(places.size()));
            places.push_back(bale_place{i});
            season.bales.push_back({as_real(weighed->net), 0.0});
        }
        season.growers = static_cast<int>(s_.growers.size());
        season.sites = static_cast<int>(s_.sites.size());
        season.bases = static_cast<int>(classes_.size());
    }

    audit::pooled_season season{};
    std::vector<bale_place> places;

  private:
    /// Film of one structure and basis of estimate may weigh another part of its claim than that of another.
    void add(bundle_place which, int bale) {
        const auto& registered = s_.at(s_.at(which).registration);
        const auto& outcome = r_.at(which);
        const auto site = outcome.accepting_receipt ? s_.receipts[*outcome.accepting_receipt].site : registered.site;
        const auto of_class = classes_.try_emplace({outcome.claim.basis, structure_of(s_, s_.at(which).registration)},
                                                   static_cast<int>(classes_.size()));
        season.bundles.push_back({bale, static_cast<int>(registered.grower.index()), static_cast<int>(site.index()),
                                  of_class.first->second, as_real(outcome.claim.estimate)});
    }

    const records::season& s_;
    const reconcile::reckoning& r_;
    std::map<std::pair<basis, std::string>, int> classes_;
};

} // namespace

audit::net_limits net_limits_on(const season& of, day on) {
    audit::net_limits limits;
    limits.doubt_from = real_setting(of, "net_question_from", on);
    limits.block_from = real_setting(of, "net_blocks_from", on);
    limits.least_of_claim = real_setting(of, "net_least_of_claim", on);
    limits.most_of_claim = real_setting(of, "net_most_of_claim", on);
    return limits;
}

bool is_far_from_claim(const audit::expected_net& judged, const audit::net_limits& limits) {
    return judged.of_claim < limits.least_of_claim || judged.of_claim > limits.most_of_claim;
}

std::vector<reconcile::flag> unexpected_nets(const season& of, const reconcile::reckoning& reckoned) {
    std::vector<reconcile::flag> flags;
    const weighed_bales bales{of, reckoned};
    if (bales.places.empty()) return flags;
    auto limits = net_limits_on(of, reckoned.at(bales.places.back()).weighed->on);
    constexpr std::size_t many = 200, very_many = 2000; // the time goes with the square of a group's size
    if (bales.places.size() > many) limits.most_neighbours = bales.places.size() > very_many ? 50 : 100;
    const auto judged = audit::judge_each_net(bales.season, limits);
    for (std::size_t k = 0; k < judged.size(); ++k) {
        const auto& each = judged[k];
        const auto size = std::abs(each.z);
        if (each.tickets == 0 || size < limits.doubt_from || is_far_from_claim(each, limits)) continue;
        const auto place = bales.places[k];
        const auto& ticket = of.tickets[reckoned.at(place).weighed->ticket];
        const auto& id = of.at(place).id.text();
        const auto unit = quantity::name_of(of.the_award->unit);
        flags.push_back({size >= limits.block_from ? "net-unexpected" : "net-in-doubt",
                         id,
                         fmt::format("Bale {} weighs {:.0f} {} by ticket {}; from the other tickets {:.0f} {} is to be "
                                     "expected, {:.0f} to {:.0f} in 95 of 100.",
                                     id, bales.season.bales[k].net, unit, ticket.id, each.expected, unit,
                                     std::max(each.low, 0.0), each.high),
                         ticket.date,
                         {{kind::ticket, ticket.entry}}});
    }
    return flags;
}

audit::expected_net judge_bale(const season& of, const reconcile::reckoning& reckoned, bale_place bale) {
    weighed_bales bales{of, reckoned};
    const auto found = std::find(bales.places.begin(), bales.places.end(), bale);
    if (found == bales.places.end()) return {};
    const auto index = static_cast<int>(found - bales.places.begin());
    const double net = bales.season.bales[static_cast<std::size_t>(index)].net;
    std::vector<audit::pooled_bundle> inside;
    for (auto& bundle : bales.season.bundles)
        if (bundle.bale == index) {
            inside.push_back(bundle);
            bundle.bale = -1;
        }
    return audit::judge_net(bales.season, inside, net, net_limits_on(of, reckoned.at(bale).weighed->on));
}

} // namespace tarewell::figures
