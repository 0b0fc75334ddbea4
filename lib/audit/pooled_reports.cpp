#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "audit/pooled_parts.hpp"

namespace tarewell::audit {

namespace {

std::size_t at(int index) { return static_cast<std::size_t>(index); }

// One grower, or one group, to be called.
struct unit {
    double p_outside = 0.0;
    double p_runs_high = 0.0;
    grower_call* call = nullptr;
};

// Calls the largest set whose expected share of wrong calls stays within the wanted one.
void call_units(std::vector<unit>& units, const call_options& options, grower_report& report) {
    std::stable_sort(units.begin(), units.end(),
                     [](const unit& a, const unit& b) { return a.p_outside > b.p_outside; });
    double wrong = 0.0;
    for (auto& one : units) {
        const double count = report.called + 1;
        if (one.p_outside >= options.least_probability && wrong + 1.0 - one.p_outside <= options.false_share * count) {
            wrong += 1.0 - one.p_outside;
            ++report.called;
            *one.call = 2.0 * one.p_runs_high >= one.p_outside ? grower_call::runs_high : grower_call::runs_low;
        } else {
            *one.call = one.p_outside <= options.fits_below ? grower_call::fits : grower_call::cannot_tell;
        }
    }
    report.expected_false_share = report.called > 0 ? wrong / report.called : 0.0;
}

template <typename grower_or_group>
void fill_ratio(const pooled_parts& parts, grower_or_group& one, int form, double tolerance) {
    one.to_claim = parts.interval_to_claim(form);
    one.to_bases = parts.interval_to_bases(form);
    const auto [below, above] = parts.outside_bases(form, tolerance);
    one.p_runs_high = below;
    one.p_outside = below + above;
    const auto [below_one, above_one] = parts.outside_one(form, tolerance);
    one.p_outside_one = below_one + above_one;
}

void check(const call_options& options) {
    if (!(options.tolerance > 0.0) || !(options.false_share >= 0.0) || !(options.false_share < 1.0) ||
        !(options.fits_below >= 0.0)) {
        throw std::invalid_argument("a tolerance is above 0, a false share within 0 and 1");
    }
}

} // namespace

std::vector<grower_ratio> pooled_parts::claims_of_growers() const {
    std::vector<double> bale_claim(season.bales.size(), 0.0);
    for (const auto& bundle : season.bundles) {
        if (in_fit(bundle)) {
            bale_claim[at(bundle.bale)] += bundle.estimate;
        }
    }
    std::vector<grower_ratio> growers(at(season.growers));
    for (int g = 0; g < season.growers; ++g) {
        growers[at(g)].grower = g;
        growers[at(g)].call = grower_call::never_weighed;
    }
    for (const auto& bundle : season.bundles) {
        auto& grower = growers[at(bundle.grower)];
        ++grower.bundles;
        grower.estimate += std::isfinite(bundle.estimate) ? bundle.estimate : 0.0;
        if (in_fit(bundle)) {
            ++grower.weighed_bundles;
            grower.weighed_estimate += bundle.estimate;
            grower.scale_weight += season.bales[at(bundle.bale)].net * bundle.estimate / bale_claim[at(bundle.bale)];
            if (bundle.estimate > 0.0) {
                grower.call = grower_call::cannot_tell;
                grower.reml_ratio +=
                    bundle.estimate * (fit.mu_by_basis[at(bundle.basis)].value_or(fit.mu) +
                                       fit.grower_effect[at(bundle.grower)] + fit.site_effect[at(bundle.site)]);
            }
        }
    }
    for (auto& grower : growers) {
        grower.reml_ratio = grower.weighed_estimate > 0.0 ? grower.reml_ratio / grower.weighed_estimate : 0.0;
    }
    return growers;
}

grower_report pooled_model::growers(const call_options& options) const {
    check(options);
    const auto& parts = *parts_;
    grower_report report;
    report.growers = parts.claims_of_growers();
    report.groups = parts.groups;
    for (std::size_t k = 0; k < report.groups.size(); ++k) {
        for (const int g : report.groups[k].growers) {
            report.growers[at(g)].group = static_cast<int>(k);
        }
    }
    if (!parts.usable()) {
        return report;
    }
    const auto fill = [&](auto& one, int form) { fill_ratio(parts, one, form, options.tolerance); };
    for_each_index(static_cast<int>(report.growers.size()), parts.options.threads, [&](int g) {
        if (parts.grower_form[at(g)] >= 0) {
            fill(report.growers[at(g)], parts.grower_form[at(g)]);
        }
    });
    for_each_index(static_cast<int>(report.groups.size()), parts.options.threads,
                   [&](int k) { fill(report.groups[at(k)], parts.group_form[at(k)]); });
    std::vector<unit> units;
    for (auto& one : report.growers) {
        if (one.to_bases && (one.group < 0 || options.call_group_members)) {
            units.push_back({one.p_outside, one.p_runs_high, &one.call});
        }
    }
    for (auto& one : report.groups) {
        if (!options.call_group_members) {
            units.push_back({one.p_outside, one.p_runs_high, &one.call});
        }
    }
    call_units(units, options, report);
    return report;
}

std::vector<site_ratio> pooled_model::sites() const {
    const auto& parts = *parts_;
    std::vector<site_ratio> sites(at(parts.season.sites));
    for (int s = 0; s < parts.season.sites; ++s) {
        sites[at(s)].site = s;
        if (parts.usable() && parts.site_form[at(s)] >= 0) {
            sites[at(s)].to_claim = parts.interval_to_claim(parts.site_form[at(s)]);
            sites[at(s)].to_bases = parts.interval_to_bases(parts.site_form[at(s)]);
        }
    }
    for (const auto& bundle : parts.season.bundles) {
        sites[at(bundle.site)].weighed_estimate += parts.in_fit(bundle) ? bundle.estimate : 0.0;
    }
    return sites;
}

std::vector<basis_ratio> pooled_model::bases() const {
    const auto& parts = *parts_;
    std::vector<basis_ratio> bases(at(parts.season.bases));
    for (int b = 0; b < parts.season.bases; ++b) {
        bases[at(b)].basis = b;
        if (parts.usable() && parts.basis_form[at(b)] >= 0) {
            bases[at(b)].to_claim = parts.interval_to_claim(parts.basis_form[at(b)]);
        }
    }
    for (const auto& bundle : parts.season.bundles) {
        bases[at(bundle.basis)].weighed_estimate += parts.in_fit(bundle) ? bundle.estimate : 0.0;
    }
    return bases;
}

} // namespace tarewell::audit
