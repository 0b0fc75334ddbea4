#include "reconcile/side_by_side.hpp"

#include <algorithm>
#include <map>

namespace tarewell::reconcile {
namespace {

using namespace records; // NOLINT

class gatherer {
  public:
    gatherer(grouping by, const season& of, const reckoning& reckoned, std::optional<quantity::span_of_days> days)
        : by_{by}, s_{of}, r_{reckoned}, days_{days} {}

    std::vector<side_by_side> run() && {
        for (std::size_t i = 0; i < s_.bundles.size(); ++i)
            add_bundle(i);
        // A bale that lost every bundle, or was weighed without any, still has its weight.
        if (by_ == grouping::bale)
            for (std::size_t i = 0; i < s_.bales.size(); ++i)
                add_bale(i);
        std::vector<side_by_side> lines;
        for (auto& [key, line] : lines_)
            lines.push_back(std::move(line));
        return lines;
    }

  private:
    grouping by_;
    const season& s_;
    const reckoning& r_;
    std::optional<quantity::span_of_days> days_;
    std::map<std::string, side_by_side> lines_;

    [[nodiscard]] bool in(day on) const { return !days_ || days_->holds(on); }

    side_by_side& line(const std::string& id, const std::string& name) {
        auto& found = lines_[id];
        if (found.id.empty()) {
            found.id = id;
            found.name = name;
        }
        return found;
    }

    side_by_side& by_word(const std::string& word) { return line(word.empty() ? "(not given)" : word, {}); }

    /// What all covers of a registration say, or that they differ.
    [[nodiscard]] std::string word_of_covers(const registration& of, std::string cover::*word) const {
        std::string said;
        for (std::size_t i = 0; i < of.covers.size(); ++i) {
            const auto& each = s_.covers[of.covers[i]].*word;
            if (i > 0 && each != said) return "mixed";
            said = each;
        }
        return said;
    }

    side_by_side& line_of(std::size_t index, bool registered) {
        const auto& registration = s_.at(s_.bundles[index].registration);
        const auto& outcome = r_.bundles[index];
        switch (by_) {
        case grouping::grower: {
            const auto& who = s_.at(registration.grower);
            return line(who.id.text(), who.name);
        }
        case grouping::registration:
            return line(registration.id.text(), s_.at(registration.grower).name);
        case grouping::site: {
            auto at = registration.site;
            if (!registered && outcome.accepting_receipt) at = s_.receipts[*outcome.accepting_receipt].site;
            return line(s_.at(at).id.text(), s_.at(at).name);
        }
        case grouping::town:
            return by_word(s_.at(registration.grower).town);
        case grouping::structure:
            return by_word(word_of_covers(registration, &cover::structure));
        case grouping::film:
            return by_word(word_of_covers(registration, &cover::film));
        case grouping::bale:
            break;
        }
        return line(s_.at(outcome.bale).id.text(), s_.at(s_.at(outcome.bale).site).name);
    }

    [[nodiscard]] bool bale_is_in(bale_place place) const {
        const auto& weighed = r_.at(place).weighed;
        return !days_ || days_->holds(s_.at(place).date) || (weighed && days_->holds(weighed->on));
    }

    void add_bundle(std::size_t index) {
        const auto& outcome = r_.bundles[index];
        if (by_ == grouping::bale) return;
        const auto claim = outcome.claim.estimate;
        if (in(s_.at(s_.bundles[index].registration).date)) line_of(index, true).registered.add(claim);
        if (outcome.accepting_receipt && in(s_.receipts[*outcome.accepting_receipt].date))
            line_of(index, false).received.add(claim);
        if (!outcome.rejections.empty() && in(outcome.rejections.front().on)) line_of(index, false).rejected.add(claim);
        if (outcome.bale && in(s_.at(outcome.bale).date)) line_of(index, false).baled.add(claim);
        if (outcome.in_bale() && r_.at(outcome.bale).weighed && in(r_.at(outcome.bale).weighed->on)) {
            auto& to = line_of(index, false);
            to.weighed.add(claim);
            to.scale_weight += outcome.share.value_or(weight{});
        }
    }

    void add_bale(std::size_t index) {
        const bale_place place{index};
        if (!bale_is_in(place)) return;
        const auto& bale = s_.bales[index];
        const auto& known = r_.bales[index];
        auto& to = line(bale.id.text(), s_.at(bale.site).name);
        for (const auto bundle : bale.bundles) {
            const auto& outcome = r_.at(bundle);
            to.registered.add(outcome.claim.estimate);
            if (outcome.accepting_receipt) to.received.add(outcome.claim.estimate);
            if (outcome.pulled) to.rejected.add(outcome.claim.estimate);
            to.baled.add(outcome.claim.estimate);
        }
        for (const auto bundle : known.inside) {
            const auto& outcome = r_.at(bundle);
            const auto spot =
                outcome.spot_ticket ? std::optional{s_.tickets[*outcome.spot_ticket].net_weight} : std::nullopt;
            to.parts.push_back({bundle, outcome.claim.estimate, spot, outcome.share});
            if (known.weighed) to.weighed.add(outcome.claim.estimate);
        }
        if (!known.weighed) return;
        to.scale_weight = known.weighed->net;
        to.weighed_on = known.weighed->on;
    }
};

} // namespace

std::optional<grouping> read_grouping(std::string_view text) {
    for (const auto by : {grouping::bale, grouping::grower, grouping::site, grouping::registration, grouping::town,
                          grouping::structure, grouping::film})
        if (name_of(by) == text) return by;
    return std::nullopt;
}

std::string_view name_of(grouping by) {
    switch (by) {
    case grouping::bale:
        return "bale";
    case grouping::grower:
        return "grower";
    case grouping::site:
        return "site";
    case grouping::registration:
        return "registration";
    case grouping::town:
        return "town";
    case grouping::structure:
        return "structure";
    case grouping::film:
        return "film";
    }
    return "";
}

std::optional<double> side_by_side::ratio() const {
    if (weighed.estimate.count() == 0) return std::nullopt;
    return quantity::nearest_double(scale_weight.count(), weighed.estimate.count());
}

std::vector<side_by_side> reconcile_by(grouping by, const season& of, const reckoning& reckoned,
                                       std::optional<quantity::span_of_days> days) {
    return gatherer{by, of, reckoned, days}.run();
}

side_by_side total_of(const std::vector<side_by_side>& lines) {
    side_by_side total;
    total.id = "total";
    for (const auto& each : lines) {
        total.registered += each.registered;
        total.received += each.received;
        total.rejected += each.rejected;
        total.baled += each.baled;
        total.weighed += each.weighed;
        total.scale_weight += each.scale_weight;
    }
    return total;
}

} // namespace tarewell::reconcile
