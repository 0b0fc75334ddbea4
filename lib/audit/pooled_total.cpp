#include <cmath>
#include <numeric>
#include <tuple>
#include <utility>

#include "audit/pooled_parts.hpp"

// What is weighed, and what is on hand, together.
namespace tarewell::audit {

namespace {

// The central interval of what is on hand, with `extra` added to its variance.
std::pair<double, double> on_hand_interval(const pooled_parts& parts, double centre, double extra) {
    const auto& posterior = parts.posterior;
    std::vector<double> sd;
    for (const double variance : posterior.total_var) {
        sd.push_back(std::sqrt(variance + extra));
    }
    const double width = std::inner_product(sd.begin(), sd.end(), posterior.weight.begin(), 0.0);
    if (!(width > 0.0)) {
        return {centre, centre};
    }
    const auto below = [&](double x) {
        return mixture_below(*parts.student, posterior.weight, posterior.total_mean, sd, x);
    };
    const double tail = 0.5 * (1.0 - parts.options.level);
    return {quantile_of(below, tail, centre - 2.0 * width, width),
            quantile_of(below, 1.0 - tail, centre + 2.0 * width, width)};
}

std::string total_sentence(const total_weight& total) {
    if (total.on_hand_bundles == 0) {
        return "Everything is weighed; only the scales' divisions are unsure.";
    }
    return total.predicted ? "What is on hand is predicted from what has been weighed so far."
                           : "What is on hand cannot be predicted: too little has been weighed to learn from.";
}

} // namespace

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
    if (parts.usable()) {
        const auto& posterior = parts.posterior;
        total.on_hand_expected =
            std::inner_product(posterior.weight.begin(), posterior.weight.end(), posterior.total_mean.begin(), 0.0);
        std::tie(total.on_hand_low, total.on_hand_high) = on_hand_interval(parts, total.on_hand_expected, 0.0);
        std::tie(total.total_low, total.total_high) = on_hand_interval(parts, total.on_hand_expected, scale_variance);
    }
    total.total_low += total.weighed;
    total.total_high += total.weighed;
    total.sentence = total_sentence(total);
    return total;
}

} // namespace tarewell::audit
