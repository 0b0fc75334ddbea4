#include "audit/expected_net.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>
#include <memory>
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

pooled_season some_bales(const pooled_season& of, const std::vector<int>& which) {
    std::vector<int> place(of.bales.size(), -1);
    pooled_season some;
    some.growers = of.growers;
    some.sites = of.sites;
    some.bases = of.bases;
    for (const int k : which) {
        place[at(k)] = static_cast<int>(some.bales.size());
        some.bales.push_back({of.bales[at(k)].net, 0.0});
    }
    for (auto bundle : of.bundles) {
        if (bundle.bale >= 0 && place[at(bundle.bale)] >= 0) {
            bundle.bale = place[at(bundle.bale)];
            some.bundles.push_back(bundle);
        }
    }
    return some;
}

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
    return some_bales(earlier, order);
}

// Claims in units of their class's mean over the first's, in two rounds, as in the search for slips.
void scale_classes(pooled_season& season, std::vector<pooled_bundle>& bale, const std::vector<bale_block>& blocks,
                   const std::vector<char>& left_out = {}) {
    for (int round = 0; round < 2 && season.bases > 1; ++round) {
        const slip_fit fit(season, left_out, blocks, 1);
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
    std::shared_ptr<const student_table> student; // many share one, which takes long to make

    double below(double x) const { return mixture_below(*student, weight, mean, sd, x); }
    double above(double x) const {
        double sum = 0.0;
        for (std::size_t k = 0; k < weight.size(); ++k) {
            sum += weight[k] * student->below((mean[k] - x) / sd[k]); // its small values keep their digits
        }
        return sum;
    }
};

predictive predict(const pooled_season& season, const std::vector<pooled_bundle>& bale, const slip_fit& fit) {
    predictive result{{}, {}, {}, std::make_shared<const student_table>(fit.freedom())};
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

// Of one row of the fit, from all others: the mean is y - Py / P_kk, the variance r without it over P_kk.
predictive without_row(const slip_fit& fit, const Eigen::MatrixXd& forms, double net, Eigen::Index row,
                       const std::shared_ptr<const student_table>& student) {
    const double size = std::sqrt(fit.square_sum(static_cast<int>(row)));
    const double nu = fit.freedom() - 1;
    predictive result{{}, {}, {}, student};
    std::vector<double> log_weight;
    for (std::size_t j = 0; j < fit.points().size(); ++j) {
        const auto& point = fit.points()[j];
        const double p = forms(static_cast<Eigen::Index>(j), row);
        const double rest = std::max(point.residual - point.py(row) * point.py(row) / p, 1e-300);
        log_weight.push_back(slip_grid().log_prior[j] - 0.5 * (point.log_determinant + std::log(p)) -
                             0.5 * nu * std::log(rest));
        result.mean.push_back(net - size * point.py(row) / p);
        result.sd.push_back(size * std::sqrt(rest / nu / p));
    }
    const double all = log_sum_exp(log_weight);
    for (const double each : log_weight) {
        result.weight.push_back(std::exp(each - all));
    }
    return result;
}

double normal_deviate(const predictive& of, double x) {
    const double below = of.below(x);
    const double above = of.above(x);
    const double size = -quantile(boost::math::normal(), std::clamp(std::min(below, above), 1e-300, 0.5));
    return below < above ? -size : size;
}

bool outside(const expected_net& judged, const net_limits& limits) {
    return !(judged.of_claim >= limits.least_of_claim && judged.of_claim <= limits.most_of_claim);
}

// By the predictive distribution; what lies outside its share of the claim blocks whatever that says.
void judge(expected_net& judged, const predictive& of, double net, const net_limits& limits) {
    judged.z = normal_deviate(of, net);
    if (outside(judged, limits) || std::abs(judged.z) >= limits.block_from) {
        judged.verdict = net_verdict::blocks;
    } else {
        judged.verdict = std::abs(judged.z) >= limits.doubt_from ? net_verdict::doubtful : net_verdict::fits;
    }
}

void tell_range(expected_net& judged, const predictive& of) {
    judged.expected = std::inner_product(of.weight.begin(), of.weight.end(), of.mean.begin(), 0.0);
    const double width = std::inner_product(of.weight.begin(), of.weight.end(), of.sd.begin(), 0.0);
    const auto below = [&](double x) { return of.below(x); };
    judged.low = quantile_of(below, .025, judged.expected - 2.0 * width, width);
    judged.high = quantile_of(below, .975, judged.expected + 2.0 * width, width);
}

// Each bale's bundles, found without looking at the others'.
class bundles_by_bale {
  public:
    explicit bundles_by_bale(const pooled_season& of) : season_(of), start_(of.bales.size() + 2, 0) {
        for (const auto& bundle : of.bundles) {
            ++start_[at(bundle.bale) + 2]; // those in no bale stand first
        }
        std::partial_sum(start_.begin(), start_.end(), start_.begin());
        order_.resize(of.bundles.size());
        for (std::size_t b = 0; b < of.bundles.size(); ++b) {
            order_[start_[at(of.bundles[b].bale) + 1]++] = b;
        }
    }

    // Some bales as a season of their own, with no growers and sites but theirs.
    pooled_season season_of(const std::vector<int>& which) const {
        pooled_season some;
        some.bases = season_.bases;
        std::vector<std::pair<std::size_t, int>> bundles; // in the order of the season
        for (std::size_t k = 0; k < which.size(); ++k) {
            some.bales.push_back({season_.bales[at(which[k])].net, 0.0});
            for (auto b = start_[at(which[k])]; b < start_[at(which[k]) + 1]; ++b) {
                bundles.emplace_back(order_[b], static_cast<int>(k));
            }
        }
        std::sort(bundles.begin(), bundles.end());
        for (const auto& [b, bale] : bundles) {
            some.bundles.push_back(season_.bundles[b]);
            some.bundles.back().bale = bale;
        }
        some.growers = number_anew(some.bundles, &pooled_bundle::grower);
        some.sites = number_anew(some.bundles, &pooled_bundle::site);
        return some;
    }

  private:
    // From 0 in the order that they have; returns how many there are.
    static int number_anew(std::vector<pooled_bundle>& bundles, int pooled_bundle::*which) {
        std::map<int, int> places;
        for (const auto& bundle : bundles) {
            places[bundle.*which] = 0;
        }
        int count = 0;
        for (auto& [old, place] : places) {
            place = count++;
        }
        for (auto& bundle : bundles) {
            bundle.*which = places[bundle.*which];
        }
        return count;
    }

    const pooled_season& season_;
    std::vector<std::size_t> start_;
    std::vector<std::size_t> order_;
};

using student_tables = std::map<double, std::shared_ptr<const student_table>>;

// Some tickets of a season, held against each other.
class group_of_tickets {
  public:
    group_of_tickets(pooled_season part, const net_limits& limits, student_tables& tables)
        : limits_(limits), part_(std::move(part)), blocks_(connected_bales(part_)), judged_(part_.bales.size()),
          left_out_(part_.bales.size(), 0), tables_(tables) {
        const auto& which = part_.bales;
        std::vector<double> claim(which.size(), 0.0);
        for (const auto& bundle : part_.bundles) {
            claim[at(bundle.bale)] += bundle.estimate;
        }
        for (std::size_t k = 0; k < which.size(); ++k) {
            judged_[k].of_claim = claim[k] > 0.0 ? part_.bales[k].net / claim[k] : 0.0;
            left_out_[k] = outside(judged_[k], limits) ? 1 : 0;
            judged_[k].verdict = left_out_[k] != 0 ? net_verdict::blocks : net_verdict::fits;
        }
        scale_classes(part_, none_, blocks_, left_out_);
    }

    // In rounds: what blocks is left out, since it would hide others.
    std::vector<expected_net> run() {
        constexpr int most_rounds = 4;
        for (int round = 0; round < most_rounds && look(); ++round) {
        }
        return std::move(judged_);
    }

  private:
    // True when a ticket more is to be left out.
    bool look() {
        const slip_fit fit(part_, left_out_, blocks_, 1);
        const int rows = static_cast<int>(fit.bale_of_row().size());
        if (!fit.usable() || rows - 1 < limits_.least_tickets || fit.freedom() < 3) {
            return false;
        }
        const auto forms = fit.row_forms();
        auto& student = tables_[fit.freedom() - 1];
        if (student == nullptr) {
            student = std::make_shared<const student_table>(fit.freedom() - 1);
        }
        for (int row = 0; row < rows; ++row) {
            const int bale = fit.bale_of_row()[at(row)];
            if (forms(0, row) > 0.0) {
                tell(bale, without_row(fit, forms, part_.bales[at(bale)].net, row, student), rows - 1);
            }
        }
        bool more = false;
        for (std::size_t k = 0; k < judged_.size(); ++k) {
            if (left_out_[k] != 0) {
                const auto bundles = bundles_of(static_cast<int>(k));
                if (!bundles.empty()) {
                    tell(static_cast<int>(k), predict(part_, bundles, fit), rows);
                }
            } else if (judged_[k].verdict == net_verdict::blocks) {
                left_out_[k] = 1;
                more = true;
            }
        }
        return more && std::count(left_out_.begin(), left_out_.end(), 1) * 4 < static_cast<int>(judged_.size());
    }

    void tell(int bale, const predictive& of, int others) {
        auto& judged = judged_[at(bale)];
        judged.tickets = others;
        judge(judged, of, part_.bales[at(bale)].net, limits_);
        if (judged.verdict != net_verdict::fits) {
            tell_range(judged, of);
        }
    }

    std::vector<pooled_bundle> bundles_of(int bale) const {
        std::vector<pooled_bundle> found;
        std::copy_if(part_.bundles.begin(), part_.bundles.end(), std::back_inserter(found),
                     [&](const pooled_bundle& each) { return each.bale == bale && each.estimate > 0.0; });
        return found;
    }

    net_limits limits_;
    pooled_season part_;
    std::vector<pooled_bundle> none_;
    std::vector<bale_block> blocks_;
    std::vector<expected_net> judged_;
    std::vector<char> left_out_;
    student_tables& tables_;
};

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
    if (outside(judged, limits)) {
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
    tell_range(judged, of);
    judge(judged, of, net, limits);
    return judged;
}

std::vector<expected_net> judge_each_net(const pooled_season& season, const net_limits& limits) {
    check_indices(season);
    std::vector<int> site(season.bales.size(), -1);
    for (const auto& bundle : season.bundles) {
        if (bundle.bale >= 0 && site[at(bundle.bale)] < 0) {
            site[at(bundle.bale)] = bundle.site;
        }
    }
    std::vector<int> order(season.bales.size());
    std::iota(order.begin(), order.end(), 0);
    const auto most = at(limits.most_neighbours);
    if (order.size() > most) {
        std::stable_sort(order.begin(), order.end(), [&](int a, int b) { return site[at(a)] < site[at(b)]; });
    }
    std::vector<expected_net> judged(season.bales.size());
    const auto groups = (order.size() + most - 1) / most;
    const bundles_by_bale bundles(season);
    student_tables tables;
    for (std::size_t g = 0; g < groups; ++g) {
        const auto from = order.begin() + static_cast<std::ptrdiff_t>(g * order.size() / groups);
        const auto to = order.begin() + static_cast<std::ptrdiff_t>((g + 1) * order.size() / groups);
        const std::vector<int> which(from, to);
        auto found = group_of_tickets(bundles.season_of(which), limits, tables).run();
        for (std::size_t k = 0; k < which.size(); ++k) {
            judged[at(which[k])] = found[k];
        }
    }
    return judged;
}

} // namespace tarewell::audit
