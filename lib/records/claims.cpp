#include "records/claims.hpp"

#include "estimate/share.hpp"
#include "quantity/large_room.hpp"

#include <algorithm>
#include <string>
#include <unordered_map>

namespace tarewell::records {

std::string_view name_of(basis value) {
    switch (value) {
    case basis::constant:
        return "constant";
    case basis::thickness:
        return "thickness";
    case basis::own:
        return "own";
    }
    return "";
}

namespace {

bool is_written_alike(const estimate::constants& a, const estimate::constants& b) {
    const auto alike = [](const decimal& x, const decimal& y) {
        return x.mantissa == y.mantissa && x.scale == y.scale;
    };
    return alike(a.curvature_factor, b.curvature_factor) && alike(a.area_weight_lb_per_ft2, b.area_weight_lb_per_ft2) &&
           alike(a.density_g_per_cm3, b.density_g_per_cm3);
}

/// What registrations' covers are claimed to weigh: the same covers under the same constants are worked out once.
class cover_claims {
  public:
    explicit cover_claims(const season& of) : s_{of} {}

    weight of(registration_place place) {
        const auto& registration = s_.at(place);
        sizes_.clear();
        for (const auto index : registration.covers)
            if (s_.covers[index].size) sizes_.push_back(*s_.covers[index].size);
        if (sizes_.empty()) return weight{};
        const auto& [number, constants] = constants_on(registration.date);
        name_.clear();
        put(number);
        for (const auto& size : sizes_)
            put_size(size);
        const auto known = claims_.find(name_);
        if (known != claims_.end()) return known->second;
        const auto unit = s_.the_award ? s_.the_award->unit : weight_unit::lb;
        return claims_.emplace(name_, estimate::claimed_weight(sizes_, constants, unit)).first->second;
    }

  private:
    const season& s_;
    std::unordered_map<std::int32_t, std::pair<std::size_t, estimate::constants>> constants_; ///< by day
    std::unordered_map<std::string, weight> claims_;
    std::vector<estimate::cover_size> sizes_;
    std::string name_;

    const std::pair<std::size_t, estimate::constants>& constants_on(day on) {
        const auto number = static_cast<std::int32_t>(on.time_since_epoch().count());
        const auto known = constants_.find(number);
        if (known != constants_.end()) return known->second;
        const auto made = s_.constants_on(on);
        const auto alike = std::find_if(constants_.begin(), constants_.end(),
                                        [&](const auto& each) { return is_written_alike(each.second.second, made); });
        const auto rank = alike == constants_.end() ? constants_.size() : alike->second.first;
        return constants_.emplace(number, std::pair{rank, made}).first->second;
    }

    template <class Number> void put(Number number) {
        name_.append(reinterpret_cast<const char*>(&number), sizeof number);
    }
    void put_length(const quantity::length& of) { put(of.numerator), put(of.denominator); }
    void put_size(const estimate::cover_size& of) {
        put_length(of.length), put_length(of.width);
        put(of.rise.has_value());
        if (of.rise) put_length(*of.rise);
        put(of.layers), put(of.flat), put(of.thickness.has_value());
        if (of.thickness) put(of.thickness->value.mantissa), put(of.thickness->value.scale);
    }
};

/// Registrations one after another, each divided over its bundles.
class divider {
  public:
    explicit divider(const season& of) : s_{of}, estimates_{of} {}

    weight left;                       ///< of the worked-out estimate, after own estimates
    std::vector<bundle_place> without; ///< bundles without an own estimate, by number

    void divide(registration_place place) {
        weight own;
        without.clear();
        for (const auto bundle : s_.at(place).bundles) {
            if (s_.at(bundle).own_estimate)
                own += *s_.at(bundle).own_estimate;
            else
                without.push_back(bundle);
        }
        left = weight{};
        if (without.empty()) return;
        std::sort(without.begin(), without.end(),
                  [&](bundle_place a, bundle_place b) { return s_.at(a).number < s_.at(b).number; });
        left = estimates_.of(place) - own;
    }

  private:
    const season& s_;
    cover_claims estimates_;
};

} // namespace

weight worked_out_estimate(const season& of, registration_place place) { return cover_claims{of}.of(place); }

bool leaves_nothing(const season& of, registration_place registration) {
    divider parts{of};
    parts.divide(registration);
    return !parts.without.empty() && parts.left.count() <= 0;
}

std::vector<claim> claims_of(const season& of) {
    std::vector<claim> claims;
    quantity::make_large_room(claims, of.bundles.size());
    claims.resize(of.bundles.size());
    for (std::size_t i = 0; i < of.bundles.size(); ++i)
        if (of.bundles[i].own_estimate) claims[i] = {*of.bundles[i].own_estimate, basis::own};
    divider parts{of};
    estimate::sharer sharer;
    std::vector<std::int64_t> equal;
    for (std::size_t r = 0; r < of.registrations.size(); ++r) {
        parts.divide(registration_place{r});
        if (parts.without.empty()) continue;
        const auto& covers = of.registrations[r].covers;
        const bool thickness = std::any_of(covers.begin(), covers.end(),
                                           [&](std::size_t index) { return of.covers[index].gives_thickness; });
        equal.assign(parts.without.size(), 1);
        const auto& shares = sharer.share(std::max<std::int64_t>(parts.left.count(), 0), equal);
        for (std::size_t i = 0; i < shares.size(); ++i)
            claims[parts.without[i].index()] = {weight{shares[i]}, thickness ? basis::thickness : basis::constant};
    }
    return claims;
}

} // namespace tarewell::records
