#include "audit/slips.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <set>
#include <stdexcept>
#include <tuple>
#include <utility>

#include "audit/fair_calls.hpp"
#include "audit/fair_posterior.hpp"
#include "audit/minimise.hpp"
#include "audit/slip_worlds.hpp"

namespace tarewell::audit {

namespace {

constexpr double name_from = .6;
constexpr double judge_from = .3; // P of a wrong claim from which its bales are left out one by one
constexpr double rests_on_one_bale = .05;
constexpr double either_holds = .9;
constexpr std::size_t most_either = 3;

std::size_t at(std::int64_t index) { return static_cast<std::size_t>(index); }

void check(const slip_season& season, const slip_options& options) {
    check_indices(season.weighed);
    if (!(options.level > 0.0 && options.level < 1.0) || !(options.tolerance > 0.0) ||
        !(options.false_share >= 0.0 && options.false_share < 1.0) || options.threads < 1) {
        throw std::invalid_argument("an option of the search for slips is out of range");
    }
    if (season.registration.size() != season.weighed.bundles.size()) {
        throw std::invalid_argument("every bundle has a registration");
    }
    std::vector<int> owner;
    for (std::size_t b = 0; b < season.registration.size(); ++b) {
        const int registration = season.registration[b];
        if (registration < 0) {
            throw std::invalid_argument("a registration's index is not negative");
        }
        owner.resize(std::max(owner.size(), at(registration) + 1), -1);
        auto& grower = owner[at(registration)];
        grower = grower < 0 ? season.weighed.bundles[b].grower : grower;
        if (grower != season.weighed.bundles[b].grower) {
            throw std::invalid_argument("a registration is one grower's");
        }
    }
    if ((!season.ticket_seen.empty() && season.ticket_seen.size() != season.weighed.bales.size()) ||
        (!season.claim_is_right.empty() && season.claim_is_right.size() < owner.size())) {
        throw std::invalid_argument("what the office has seen is said of every bale, or registration");
    }
}

// Tickets and growers of one world's slips, as items; no probability yet.
std::vector<slip_item> items_of(const slip_ground& ground, const fitted_world& world) {
    std::vector<slip_item> items;
    for (const int bale : world.tickets) {
        items.push_back({true, bale, 0.0});
    }
    for (const auto& slip : world.claims) {
        const int grower = ground.grower_of(slip);
        if (std::none_of(items.begin(), items.end(),
                         [&](const slip_item& item) { return !item.ticket && item.index == grower; })) {
            items.push_back({false, grower, 0.0});
        }
    }
    return items;
}

bool same(const slip_item& a, const slip_item& b) { return a.ticket == b.ticket && a.index == b.index; }

class slip_reporter {
  public:
    slip_reporter(const slip_ground& ground, const std::vector<fitted_world>& worlds, slip_report& report)
        : ground_(ground), worlds_(worlds), report_(report) {}

    void weigh_worlds() {
        double sum = 0.0;
        for (const auto& world : worlds_) {
            weight_.push_back(std::exp(world.log_posterior - worlds_.front().log_posterior));
            sum += weight_.back();
        }
        for (std::size_t h = 0; h < worlds_.size(); ++h) {
            weight_[h] /= sum;
            const auto& world = worlds_[h];
            report_.worlds.push_back({weight_[h],
                                      world.log_posterior,
                                      world.log_evidence,
                                      {world.tickets.begin(), world.tickets.end()},
                                      world.claims});
            items_.push_back(items_of(ground_, world));
            for (const auto& item : items_.back()) {
                found(item).probability += weight_[h];
            }
            add_registrations(world, weight_[h]);
        }
        for (const auto& item : all_) {
            (item.ticket ? report_.p_ticket[at(item.index)] : report_.growers[at(item.index)].p_slip) =
                item.probability;
        }
    }

    void name_slips() {
        for (const auto& item : all_) {
            if (item.probability >= name_from) {
                named_slip named{item, 1.0, -1, false};
                if (!item.ticket) {
                    std::tie(named.without_one_bale, named.that_bale) = without_one_bale(item.index);
                    named.or_that_ticket = named.without_one_bale < rests_on_one_bale;
                }
                report_.named.push_back(named);
            }
        }
        std::stable_sort(report_.named.begin(), report_.named.end(), [](const named_slip& a, const named_slip& b) {
            return a.item.probability > b.item.probability;
        });
        find_either();
    }

    // P that a grower's claim is wrong when the bale on which that rests most says nothing, and that bale: the best
    // world with the slip against the same without it.
    std::pair<double, int> without_one_bale(int grower) const {
        const auto with = std::find_if(worlds_.begin(), worlds_.end(),
                                       [&](const fitted_world& world) { return world.slipped(ground_, grower); });
        std::vector<claim_slip> others;
        double prior = 0.0;
        for (const auto& slip : with->claims) {
            if (ground_.grower_of(slip) != grower) {
                others.push_back(slip);
                continue;
            }
            const auto best = std::max_element(slip.shares.begin(), slip.shares.end());
            prior += log_prior_of_claim(at(best - slip.shares.begin())) - std::log(*best);
        }
        const auto without = make_world(ground_, with->tickets, others, with->class_scale);
        const auto a = without_each_bale(*with);
        const auto b = without_each_bale(without);
        double least = std::numeric_limits<double>::infinity();
        int that_bale = -1;
        for (std::size_t k = 0; k < a.size(); ++k) {
            if (std::isfinite(a[k]) && std::isfinite(b[k]) && !ground_.ticket_seen(static_cast<int>(k)) &&
                a[k] - b[k] + prior < least) {
                least = a[k] - b[k] + prior;
                that_bale = static_cast<int>(k);
            }
        }
        return {1.0 / (1.0 + std::exp(-least)), that_bale};
    }

    // By grower: what is left of p_slip without its strongest bale; 1 where that was not worth looking at.
    std::vector<double> rests() const {
        std::vector<double> left(report_.growers.size(), 1.0);
        for (std::size_t g = 0; g < left.size(); ++g) {
            if (report_.growers[g].p_slip > judge_from) {
                left[g] = without_one_bale(static_cast<int>(g)).first;
            }
        }
        return left;
    }

    const std::vector<double>& weight() const { return weight_; }

  private:
    slip_item& found(const slip_item& item) {
        const auto place =
            std::find_if(all_.begin(), all_.end(), [&](const slip_item& other) { return same(item, other); });
        return place != all_.end() ? *place : all_.emplace_back(item);
    }

    void add_registrations(const fitted_world& world, double weight) {
        for (std::size_t r = 0; r < ground_.owner.size(); ++r) {
            const bool wrong = std::any_of(world.claims.begin(), world.claims.end(), [&](const claim_slip& slip) {
                return slip.index == (slip.all_of_grower ? ground_.owner[r] : static_cast<int>(r));
            });
            report_.p_registration[r] += wrong ? weight : 0.0;
        }
    }

    // The smallest set, of at most three that are not named, that holds a slip with P >= .9.
    void find_either() {
        std::vector<slip_item> rest;
        std::copy_if(all_.begin(), all_.end(), std::back_inserter(rest),
                     [](const slip_item& item) { return item.probability < name_from; });
        double held = 0.0;
        std::vector<char> counted(worlds_.size(), 0);
        const auto in = [&](std::size_t h, const slip_item& item) {
            return std::any_of(items_[h].begin(), items_[h].end(),
                               [&](const slip_item& other) { return same(item, other); });
        };
        while (!rest.empty() && report_.either.size() < most_either && held < either_holds) {
            std::vector<double> gain;
            for (const auto& item : rest) {
                gain.push_back(0.0);
                for (std::size_t h = 0; h < worlds_.size(); ++h) {
                    gain.back() += counted[h] == 0 && in(h, item) ? weight_[h] : 0.0;
                }
            }
            const auto best = std::max_element(gain.begin(), gain.end()) - gain.begin();
            held += gain[at(best)];
            for (std::size_t h = 0; h < worlds_.size(); ++h) {
                counted[h] = counted[h] != 0 || in(h, rest[at(best)]) ? 1 : 0;
            }
            report_.either.push_back(rest[at(best)]);
            rest.erase(rest.begin() + best);
        }
        if (held < either_holds) {
            report_.either.clear();
        }
    }

    const slip_ground& ground_;
    const std::vector<fitted_world>& worlds_;
    slip_report& report_;
    std::vector<double> weight_;
    std::vector<std::vector<slip_item>> items_; // by world
    std::vector<slip_item> all_;
};

void count_bales(const slip_season& season, slip_report& report) {
    std::set<std::pair<int, int>> seen;
    for (const auto& bundle : season.weighed.bundles) {
        if (bundle.bale >= 0 && bundle.estimate > 0.0 && season.weighed.bales[at(bundle.bale)].net > 0.0 &&
            seen.emplace(bundle.grower, bundle.bale).second) {
            ++report.growers[at(bundle.grower)].bales;
        }
    }
}

// Whether a bale with P >= .3 of a wrong ticket holds something of the grower's.
std::vector<char> in_doubtful_bale(const slip_season& season, const slip_report& report) {
    std::vector<char> doubtful(report.growers.size(), 0);
    for (const auto& bundle : season.weighed.bundles) {
        if (bundle.bale >= 0 && report.p_ticket[at(bundle.bale)] >= judge_from) {
            doubtful[at(bundle.grower)] = 1;
        }
    }
    return doubtful;
}

double blocks_work(const std::vector<bale_block>& blocks) {
    return std::accumulate(blocks.begin(), blocks.end(), 0.0, [](double sum, const bale_block& block) {
        return sum + std::pow(static_cast<double>(block.bales.size()), 3.0);
    });
}

void find_slips_by_worlds(const slip_ground& ground, const slip_options& options, slip_report& report,
                          std::vector<double>& rests) {
    const auto worlds = find_worlds(ground);
    if (worlds.empty()) {
        return;
    }
    report.status = slip_status::averaged;
    report.sentence = "Calls are averaged over the worlds, with slips and without, that the weights leave open.";
    slip_reporter reporter(ground, worlds, report);
    reporter.weigh_worlds();
    reporter.name_slips();
    rests = reporter.rests();
    std::vector<fair_posterior> posteriors;
    for (const auto& world : worlds) {
        posteriors.emplace_back(ground, world);
    }
    for_each_index(ground.season.weighed.growers, options.threads,
                   [&](int g) { fill_ratio(reporter.weight(), posteriors, g, options, report.growers[at(g)]); });
    const auto none = make_world(ground, {}, {}, {});
    for (int basis = 0; basis < ground.season.weighed.bases; ++basis) {
        const bool weighed = none.fit->prepared().basis_weighed[at(basis)] != 0;
        report.class_ratio.push_back(weighed ? none.fit->mean_of_class(basis) * none.class_scale[at(basis)] : 0.0);
    }
}

} // namespace

slip_report find_slips(const slip_season& season, const slip_options& options) {
    check(season, options);
    const slip_ground ground(season, options.threads);
    slip_report report;
    report.sentence = "Too few bales, or no scatter between them, to tell slips from habits.";
    report.growers.resize(at(season.weighed.growers));
    report.p_ticket.assign(season.weighed.bales.size(), 0.0);
    report.p_registration.assign(ground.owner.size(), 0.0);
    count_bales(season, report);
    std::vector<double> rests(report.growers.size(), 1.0);
    if (blocks_work(ground.blocks) > options.largest_work) {
        find_slips_in_large(ground, options, report);
    } else {
        find_slips_by_worlds(ground, options, report, rests);
    }
    if (report.status == slip_status::too_few) {
        for (auto& grower : report.growers) {
            grower.call = grower.bales > 0 ? fair_call::too_little_data : fair_call::never_weighed;
        }
    } else {
        call_growers(rests, in_doubtful_bale(season, report), options, report);
    }
    return report;
}

pooled_season corrected_season(const slip_season& season, const slip_world& world) {
    auto corrected = season.weighed;
    for (const int bale : world.wrong_tickets) {
        corrected.bales[at(bale)].net = std::numeric_limits<double>::quiet_NaN();
    }
    for (std::size_t b = 0; b < corrected.bundles.size(); ++b) {
        for (const auto& slip : world.claims) {
            if (slip.index == (slip.all_of_grower ? corrected.bundles[b].grower : season.registration[b])) {
                corrected.bundles[b].estimate *= slip.factor;
            }
        }
    }
    return corrected;
}

} // namespace tarewell::audit
