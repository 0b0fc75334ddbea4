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
    if (!(options.tolerance > 0.0) || !(options.false_share >= 0.0) || !(options.false_share < 1.0) ||
        !(options.fits_below >= 0.0)) {
        throw std::invalid_argument("a tolerance is above 0, a false share within 0 and 1");
    }
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
    const auto fill = [&](auto& one, int form) {
        one.to_claim = parts.interval_to_claim(form);
        one.to_bases = parts.interval_to_bases(form);
        const auto [below, above] = parts.outside_bases(form, options.tolerance);
        one.p_runs_high = below;
        one.p_outside = below + above;
        const auto [below_one, above_one] = parts.outside_one(form, options.tolerance);
        one.p_outside_one = below_one + above_one;
    };
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

total_weight pooled_model::total() const {
    const auto& parts = *parts_;
    total_weight total;
    double scale_variance = 0.0;
    for (const auto& bale : parts.season.bales) {
        if (std::isfinite(bale.net) && bale.net >= 0.0) {
            total.weighed += bale.net;
            scale_variance += bale.division * bale.division / 12.0;
        }
    }
    total.weighed_sd = std::sqrt(scale_variance);
    for (const auto& bundle : parts.season.bundles) {
        if (parts.on_hand(bundle)) {
            ++total.on_hand_bundles;
            total.on_hand_estimate += bundle.estimate;
        }
    }
    total.predicted = parts.usable() || total.on_hand_estimate == 0.0;
    const double tail = 0.5 * (1.0 - parts.options.level);
    const auto ends = [&](double extra, double& low, double& high) {
        const auto& posterior = parts.posterior;
        std::vector<double> sd;
        double width = 0.0;
        for (std::size_t g = 0; g < posterior.weight.size(); ++g) {
            sd.push_back(std::sqrt(posterior.total_var[g] + extra));
            width += posterior.weight[g] * sd.back();
        }
        const double centre = total.on_hand_expected;
        low = high = centre;
        if (width > 0.0) {
            const auto below = [&](double x) {
                return mixture_below(*parts.student, posterior.weight, posterior.total_mean, sd, x);
            };
            low = quantile_of(below, tail, centre - 2.0 * width, width);
            high = quantile_of(below, 1.0 - tail, centre + 2.0 * width, width);
        }
    };
    if (parts.usable()) {
        for (std::size_t g = 0; g < parts.posterior.weight.size(); ++g) {
            total.on_hand_expected += parts.posterior.weight[g] * parts.posterior.total_mean[g];
        }
        ends(0.0, total.on_hand_low, total.on_hand_high);
        ends(scale_variance, total.total_low, total.total_high);
    }
    total.total_low += total.weighed;
    total.total_high += total.weighed;
    total.sentence = total.on_hand_bundles == 0 ? "Everything is weighed; only the scales' divisions are unsure."
                     : total.predicted
                         ? "What is on hand is predicted from what has been weighed so far."
                         : "What is on hand cannot be predicted: too little has been weighed to learn from.";
    return total;
}

} // namespace tarewell::audit
