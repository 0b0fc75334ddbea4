#include "audit/pooled_season.hpp"

#include <cmath>
#include <map>
#include <stdexcept>

namespace tarewell::audit {

namespace {

bool in_range(int index, std::size_t count) { return index >= 0 && static_cast<std::size_t>(index) < count; }

} // namespace

void check_indices(const pooled_season& season) {
    if (season.growers < 0 || season.sites < 0 || season.bases < 0) {
        throw std::invalid_argument("a season's counts are not negative");
    }
    for (const auto& bundle : season.bundles) {
        if (bundle.bale < -1 || bundle.bale >= static_cast<int>(season.bales.size()) ||
            !in_range(bundle.grower, static_cast<std::size_t>(season.growers)) ||
            !in_range(bundle.site, static_cast<std::size_t>(season.sites)) ||
            !in_range(bundle.basis, static_cast<std::size_t>(season.bases))) {
            throw std::invalid_argument("a bundle's bale, grower, site or basis is out of range");
        }
    }
}

spot_season take_off_spot_weights(const pooled_season& season, const std::vector<spot_weight>& spots) {
    check_indices(season);
    std::map<int, spot_weight> last;
    for (const auto& spot : spots) {
        if (!in_range(spot.bundle, season.bundles.size())) {
            throw std::invalid_argument("a spot weight names a bundle that is not there");
        }
        last[spot.bundle] = spot;
    }
    auto bales = season.bales;
    std::vector<int> left(bales.size(), 0);
    std::vector<char> touched(bales.size(), 0);
    for (std::size_t b = 0; b < season.bundles.size(); ++b) {
        const int bale = season.bundles[b].bale;
        if (bale < 0) {
            continue;
        }
        const auto place = static_cast<std::size_t>(bale);
        const auto spot = last.find(static_cast<int>(b));
        if (spot == last.end()) {
            ++left[place];
            continue;
        }
        touched[place] = 1;
        bales[place].net -= spot->second.weight;
        bales[place].division = std::hypot(bales[place].division, spot->second.division);
    }
    spot_season result;
    result.season = season;
    result.season.bales.clear();
    std::vector<int> place_of(bales.size(), -1);
    for (std::size_t k = 0; k < bales.size(); ++k) {
        if (touched[k] != 0 && left[k] == 0) {
            continue;
        }
        if (touched[k] != 0 && bales[k].net < 0.0) {
            result.findings.push_back({finding_kind::spot_over_net, static_cast<int>(k),
                                       "The spot weights of this bale's bundles add up to more "
                                       "than its net weight; the rest is left out."});
        }
        place_of[k] = static_cast<int>(result.season.bales.size());
        result.season.bales.push_back(bales[k]);
        result.bale_was.push_back(static_cast<int>(k));
    }
    for (std::size_t b = 0; b < season.bundles.size(); ++b) {
        auto& bundle = result.season.bundles[b];
        if (const auto spot = last.find(static_cast<int>(b)); spot != last.end()) {
            bundle.bale = static_cast<int>(result.season.bales.size());
            result.season.bales.push_back({spot->second.weight, spot->second.division});
            result.bale_was.push_back(-1);
        } else if (bundle.bale >= 0) {
            bundle.bale = place_of[static_cast<std::size_t>(bundle.bale)];
        }
    }
    return result;
}

} // namespace tarewell::audit
