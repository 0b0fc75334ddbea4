#include "records/claims.hpp"

#include "estimate/share.hpp"

#include <algorithm>

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

weight worked_out_estimate(const season& of, registration_place place) {
    const auto& registration = of.at(place);
    std::vector<estimate::cover_size> sizes;
    for (const auto index : registration.covers)
        if (of.covers[index].size) sizes.push_back(*of.covers[index].size);
    if (sizes.empty()) return weight{};
    const auto unit = of.the_award ? of.the_award->unit : weight_unit::lb;
    return estimate::claimed_weight(sizes, of.constants_on(registration.date), unit);
}

namespace {

struct division {
    weight left;                       ///< of the worked-out estimate, after own estimates
    std::vector<bundle_place> without; ///< bundles without an own estimate, by number
};

division divide(const season& of, registration_place place) {
    division result;
    weight own;
    for (const auto bundle : of.at(place).bundles) {
        if (of.at(bundle).own_estimate)
            own += *of.at(bundle).own_estimate;
        else
            result.without.push_back(bundle);
    }
    if (result.without.empty()) return result;
    std::sort(result.without.begin(), result.without.end(),
              [&](bundle_place a, bundle_place b) { return of.at(a).number < of.at(b).number; });
    result.left = worked_out_estimate(of, place) - own;
    return result;
}

} // namespace

bool leaves_nothing(const season& of, registration_place place) {
    const auto parts = divide(of, place);
    return !parts.without.empty() && parts.left.count() <= 0;
}

std::vector<claim> claims_of(const season& of) {
    std::vector<claim> claims(of.bundles.size());
    for (std::size_t i = 0; i < of.bundles.size(); ++i)
        if (of.bundles[i].own_estimate) claims[i] = {*of.bundles[i].own_estimate, basis::own};
    for (std::size_t r = 0; r < of.registrations.size(); ++r) {
        const auto parts = divide(of, registration_place{r});
        if (parts.without.empty()) continue;
        const auto& covers = of.registrations[r].covers;
        const bool thickness = std::any_of(covers.begin(), covers.end(),
                                           [&](std::size_t index) { return of.covers[index].gives_thickness; });
        const std::vector<std::int64_t> equal(parts.without.size(), 1);
        const auto shares = estimate::shared_out(std::max<std::int64_t>(parts.left.count(), 0), equal);
        for (std::size_t i = 0; i < shares.size(); ++i)
            claims[parts.without[i].index()] = {weight{shares[i]}, thickness ? basis::thickness : basis::constant};
    }
    return claims;
}

} // namespace tarewell::records
