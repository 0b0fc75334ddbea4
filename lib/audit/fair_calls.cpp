#include "audit/fair_calls.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include <boost/math/distributions/normal.hpp>

namespace tarewell::audit {

namespace {

// Measured on simulated seasons (README.md): calls below these were wrong too often.
constexpr double least_outside = .95;
constexpr double least_where_growers_differ = .90;
constexpr double growers_differ = .40; // mean P(outside) over growers
constexpr double slip_is_open = .5;
constexpr double slip_is_sure = .95;
constexpr double rests_on_one_bale = .05;
constexpr double slip_is_named = .6;
constexpr double fits_below = .10;

constexpr double letter_from = .975;
constexpr int letter_bales = 2;
constexpr double sharp = .10; // sd of the log ratio up to which a cause can be named

std::size_t at(std::int64_t index) { return static_cast<std::size_t>(index); }

double outside(const fair_grower& grower) { return grower.p_runs_high + grower.p_runs_low; }

bool slip_is_unsettled(const fair_grower& grower, double rests) {
    return grower.p_slip > slip_is_open && (grower.p_slip < slip_is_sure || rests < rests_on_one_bale);
}

std::vector<asked_cause> sharp_causes(double ratio) {
    using enum asked_cause;
    if (ratio >= 1.75) {
        return {second_layer, a_dimension};
    }
    if (ratio >= 1.4) {
        return ratio < 1.6 ? std::vector{thicker_film, a_dimension, wet_or_dirty}
                           : std::vector{thicker_film, a_dimension};
    }
    if (ratio >= 1.1) {
        return {sizes, wet_or_dirty};
    }
    if (ratio >= .7) {
        return {sizes, a_part_not_brought};
    }
    if (ratio >= .57) {
        return {thinner_film, a_dimension};
    }
    return {layers_counted_twice, a_dimension, a_part_not_brought};
}

// What a letter may ask; with a wide interval no single cause but a layer that is plain.
std::vector<asked_cause> causes_of(const fair_grower& grower, double level) {
    const double reach = 2.0 * quantile(boost::math::normal(), 0.5 * (1.0 + level)); // of the interval, in sd
    if (grower.low > 0.0 && std::log(grower.high / grower.low) <= sharp * reach) {
        return sharp_causes(grower.ratio);
    }
    return grower.ratio >= 1.9 ? std::vector{asked_cause::second_layer} : std::vector<asked_cause>{};
}

} // namespace

void fill_ratio(const std::vector<double>& weight, const std::vector<fair_posterior>& worlds, int grower,
                const slip_options& options, fair_grower& into) {
    const auto below = [&](double ratio) {
        double sum = 0.0;
        for (std::size_t h = 0; h < worlds.size(); ++h) {
            sum += weight[h] * worlds[h].below(grower, ratio);
        }
        return sum;
    };
    into.ratio = 0.0;
    for (std::size_t h = 0; h < worlds.size(); ++h) {
        into.ratio += weight[h] * worlds[h].mean(grower);
    }
    into.p_runs_high = below(1.0 - options.tolerance);
    into.p_runs_low = 1.0 - below(1.0 + options.tolerance);
    const double tail = 0.5 * (1.0 - options.level);
    into.low = quantile_of(below, tail, into.ratio, 0.5);
    into.high = quantile_of(below, 1.0 - tail, into.ratio, 0.5);
}

void call_growers(const std::vector<double>& rests, const std::vector<char>& doubtful, const slip_options& options,
                  slip_report& report) {
    std::vector<int> order;
    double all = 0.0;
    for (std::size_t g = 0; g < report.growers.size(); ++g) {
        if (report.growers[g].bales > 0) {
            order.push_back(static_cast<int>(g));
            all += outside(report.growers[g]);
        }
    }
    const double mean = order.empty() ? 0.0 : all / static_cast<double>(order.size());
    const double least = mean >= growers_differ ? least_where_growers_differ : least_outside;
    std::stable_sort(order.begin(), order.end(),
                     [&](int a, int b) { return outside(report.growers[at(a)]) > outside(report.growers[at(b)]); });
    double wrong = 0.0;
    for (const int g : order) {
        auto& grower = report.growers[at(g)];
        const double p = outside(grower);
        grower.call = p <= fits_below ? fair_call::fits : fair_call::too_little_data;
        if (slip_is_unsettled(grower, rests[at(g)])) {
            const bool notable = p >= least || grower.p_slip >= slip_is_named;
            grower.call = notable ? fair_call::check_first : fair_call::too_little_data;
        } else if (p >= least && wrong + 1.0 - p <= options.false_share * (report.called + 1)) {
            wrong += 1.0 - p;
            ++report.called;
            grower.call = grower.p_runs_high > grower.p_runs_low ? fair_call::runs_high : fair_call::runs_low;
            grower.letter = std::max(grower.p_runs_high, grower.p_runs_low) >= letter_from &&
                            grower.bales >= letter_bales && doubtful[at(g)] == 0;
            grower.ask = grower.letter ? causes_of(grower, options.level) : std::vector<asked_cause>{};
        }
    }
    report.expected_false_share = report.called > 0 ? wrong / report.called : 0.0;
}

} // namespace tarewell::audit
