#include "audit/expected_net.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <set>
#include <stdexcept>

#include <boost/math/distributions/normal.hpp>

#include "audit/slip_fit.hpp"
#include "audit/student_mixture.hpp"

namespace tarewell::audit {

namespace {

constexpr double least_weight = 1e-4; // of a point of the grid

std::size_t at(std::int64_t index) { return static_cast<std::size_t>(index); }

// The tickets that tell most of the bale, as a season of their own.
pooled_season neighbours(const pooled_season& earlier, const std::vector<pooled_bundle>& bale, int most) {
    std::set<int> growers;
    std::set<int> sites;
    for (const auto& bundle : bale) {
        growers.insert(bundle.grower);
        sites.insert(bundle.site);
    }
    std::vector<int> nearness(earlier.bales.size(), 0);
    for (const auto& bundle : earlier.bundles) {
        if (bundle.bale >= 0 && bundle.estimate > 0.0) {
            const int near = growers.count(bundle.grower) != 0 ? 3 : sites.count(bundle.site) != 0 ? 2 : 1;
            nearness[at(bundle.bale)] = std::max(nearness[at(bundle.bale)], near);
        }
    }
    std::vector<int> order;
    for (std::size_t k = earlier.bales.size(); k-- > 0;) {
        if (nearness[k] > 0 && earlier.bales[k].net > 0.0) {
            order.push_back(static_cast<int>(k));
        }
    }
    std::stable_sort(order.begin(), order.end(), [&](int a, int b) { return nearness[at(a)] > nearness[at(b)]; });
    order.resize(std::min(order.size(), at(most)));
    std::vector<int> place(earlier.bales.size(), -1);
    pooled_season near;
    near.growers = earlier.growers;
    near.sites = earlier.sites;
    near.bases = earlier.bases;
    for (const int k : order) {
        place[at(k)] = static_cast<int>(near.bales.size());
        near.bales.push_back({earlier.bales[at(k)].net, 0.0});
    }
    for (auto bundle : earlier.bundles) {
        if (bundle.bale >= 0 && place[at(bundle.bale)] >= 0) {
            bundle.bale = place[at(bundle.bale)];
            near.bundles.push_back(bundle);
        }
    }
    return near;
}

// Claims in units of their class's mean over the first's, in two rounds, as in the search for slips.
void scale_classes(pooled_season& season, std::vector<pooled_bundle>& bale, const std::vector<bale_block>& blocks) {
    for (int round = 0; round < 2 && season.bases > 1; ++round) {
        const slip_fit fit(season, {}, blocks, 1);
        if (!fit.usable()) {
            return;
        }
        const auto scale = [&](pooled_bundle& bundle) {
            bundle.estimate *= std::clamp(fit.mean_of_class(bundle.basis) / fit.mean_of_class(0), .2, 5.0);
        };
        std::for_each(season.bundles.begin(), season.bundles.end(), scale);
        std::for_each(bale.begin(), bale.end(), scale);
    }
}

// A mixture of Student's t over the grid.
struct predictive {
    std::vector<double> weight, mean, sd;
    student_table student;

    double below(double x) const { return mixture_below(student, weight, mean, sd, x); }
    double above(double x) const {
        double sum = 0.0;
        for (std::size_t k = 0; k < weight.size(); ++k) {
            sum += weight[k] * student.below((mean[k] - x) / sd[k]); // its small values keep their digits
        }
        return sum;
    }
};

predictive predict(const pooled_season& season, const std::vector<pooled_bundle>& bale, const slip_fit& fit) {
    predictive result{{}, {}, {}, student_table(fit.freedom())};
    const auto weight = fit.weights();
    for (std::size_t j = 0; j < weight.size(); ++j) {
        if (weight[j] > least_weight) {
            const auto one = fit.predict(season, bale, j);
            result.weight.push_back(weight[j]);
            result.mean.push_back(one.mean);
            result.sd.push_back(std::sqrt(one.variance));
        }
    }
    const double sum = std::accumulate(result.weight.begin(), result.weight.end(), 0.0);
    for (auto& each : result.weight) {
        each /= sum;
    }
    return result;
}

double normal_deviate(const predictive& of, double x) {
    const double below = of.below(x);
    const double above = of.above(x);
    const double size = -quantile(boost::math::normal(), std::clamp(std::min(below, above), 1e-300, 0.5));
    return below < above ? -size : size;
}

} // namespace

expected_net judge_net(const pooled_season& earlier, const std::vector<pooled_bundle>& bale, double net,
                       const net_limits& limits) {
    check_indices(earlier);
    expected_net judged;
    double claim = 0.0;
    for (const auto& bundle : bale) {
        if (bundle.basis < 0 || bundle.basis >= earlier.bases || bundle.grower < 0 || bundle.site < 0) {
            throw std::invalid_argument("a new bundle's class of cover is one of the season's");
        }
        claim += bundle.estimate;
    }
    judged.of_claim = claim > 0.0 ? net / claim : 0.0;
    if (!(judged.of_claim >= limits.least_of_claim && judged.of_claim <= limits.most_of_claim)) {
        judged.verdict = net_verdict::blocks;
    }
    auto near = neighbours(earlier, bale, limits.most_neighbours);
    if (!(claim > 0.0) || static_cast<int>(near.bales.size()) < limits.least_tickets) {
        return judged;
    }
    auto inside = bale;
    const auto blocks = connected_bales(near);
    scale_classes(near, inside, blocks);
    const slip_fit fit(near, {}, blocks, 1);
    if (!fit.usable()) {
        return judged;
    }
    judged.tickets = static_cast<int>(near.bales.size());
    const auto of = predict(near, inside, fit);
    judged.expected = std::inner_product(of.weight.begin(), of.weight.end(), of.mean.begin(), 0.0);
    const double width = std::inner_product(of.weight.begin(), of.weight.end(), of.sd.begin(), 0.0);
    const auto below = [&](double x) { return of.below(x); };
    judged.low = quantile_of(below, .025, judged.expected - 2.0 * width, width);
    judged.high = quantile_of(below, .975, judged.expected + 2.0 * width, width);
    judged.z = normal_deviate(of, net);
    if (std::abs(judged.z) >= limits.block_from) {
        judged.verdict = net_verdict::blocks;
    } else if (std::abs(judged.z) >= limits.doubt_from && judged.verdict == net_verdict::fits) {
        judged.verdict = net_verdict::doubtful;
    }
    return judged;
}

} // namespace tarewell::audit
