#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <functional>

#include "audit/pooled_model.hpp"
#include "bench/audit_simulation.hpp"

// An independent check of `audit next`: the posterior covariance of (mu, u, v) worked out anew, as a
// whole, for every bundle that might be weighed, instead of by rank-one updates of what is known.

using namespace tarewell::audit;

namespace {

using values = std::vector<double>;
using square = std::vector<values>;

square inverse(square of) {
    const auto size = of.size();
    square made(size, values(size, 0.0));
    for (std::size_t i = 0; i < size; ++i) {
        made[i][i] = 1.0;
    }
    for (std::size_t k = 0; k < size; ++k) {
        std::size_t best = k;
        for (std::size_t i = k; i < size; ++i) {
            best = std::abs(of[i][k]) > std::abs(of[best][k]) ? i : best;
        }
        std::swap(of[k], of[best]);
        std::swap(made[k], made[best]);
        const double pivot = of[k][k];
        for (std::size_t j = 0; j < size; ++j) {
            of[k][j] /= pivot;
            made[k][j] /= pivot;
        }
        for (std::size_t i = 0; i < size; ++i) {
            const double factor = i == k ? 0.0 : of[i][k];
            for (std::size_t j = 0; j < size; ++j) {
                of[i][j] -= factor * of[k][j];
                made[i][j] -= factor * made[k][j];
            }
        }
    }
    return made;
}

double form_variance(const square& covariance, const values& form) {
    double sum = 0.0;
    for (std::size_t i = 0; i < form.size(); ++i) {
        for (std::size_t j = 0; j < form.size(); ++j) {
            sum += form[i] * covariance[i][j] * form[j];
        }
    }
    return sum;
}

// A season of one basis, its variances held at what was estimated once.
class by_brute_force {
  public:
    by_brute_force(pooled_season season, const pooled_fit& fit) : season_(std::move(season)), fit_(fit) {}

    // The bundle is weighed alone: it is a bale of its own now.
    void weigh(int bundle) {
        season_.bundles[static_cast<std::size_t>(bundle)].bale = static_cast<int>(season_.bales.size());
        season_.bales.push_back({0.0, 0.0}); // what it weighs moves no variance
    }

    double sd_of_total() const {
        values form(size(), 0.0);
        double squares = 0.0;
        for (const auto& bundle : season_.bundles) {
            if (bundle.bale < 0) {
                add(form, bundle, bundle.estimate);
                squares += bundle.estimate * bundle.estimate;
            }
        }
        return std::sqrt(form_variance(covariance(), form) + fit_.sd_bundle * fit_.sd_bundle * squares);
    }

    // Over the growers' ratios in the bales of `first`, the season as it was fitted.
    double sd_of_growers(const pooled_season& first) const {
        const auto known = covariance();
        double sum = 0.0;
        int growers = 0;
        for (int grower = 0; grower < season_.growers; ++grower) {
            values form(size(), 0.0);
            double claim = 0.0;
            for (const auto& bundle : first.bundles) {
                if (bundle.bale >= 0 && bundle.grower == grower) {
                    add(form, bundle, bundle.estimate);
                    claim += bundle.estimate;
                }
            }
            if (claim > 0.0) {
                for (auto& part : form) {
                    part /= claim;
                }
                sum += form_variance(known, form);
                ++growers;
            }
        }
        return std::sqrt(sum / growers);
    }

  private:
    std::size_t size() const { return static_cast<std::size_t>(1 + season_.growers + season_.sites); }
    void add(values& form, const pooled_bundle& bundle, double e) const {
        form[0] += e;
        form[static_cast<std::size_t>(1 + bundle.grower)] += e;
        form[static_cast<std::size_t>(1 + season_.growers + bundle.site)] += e;
    }
    // Henderson's equations: the inverse of [X'X X'Z; Z'X Z'Z + D^-1] times s^2.
    square covariance() const {
        std::vector<values> rows(season_.bales.size(), values(size(), 0.0));
        values q(season_.bales.size(), 0.0);
        for (const auto& bundle : season_.bundles) {
            if (bundle.bale >= 0) {
                add(rows[static_cast<std::size_t>(bundle.bale)], bundle, bundle.estimate);
                q[static_cast<std::size_t>(bundle.bale)] += bundle.estimate * bundle.estimate;
            }
        }
        const double s2 = fit_.sd_bundle * fit_.sd_bundle;
        square equations(size(), values(size(), 0.0));
        for (std::size_t k = 0; k < rows.size(); ++k) {
            for (std::size_t i = 0; i < size(); ++i) {
                for (std::size_t j = 0; j < size(); ++j) {
                    equations[i][j] += rows[k][i] * rows[k][j] / (q[k] * s2);
                }
            }
        }
        for (std::size_t i = 1; i < size(); ++i) {
            const double sd = i <= static_cast<std::size_t>(season_.growers) ? fit_.sd_grower : fit_.sd_site;
            equations[i][i] += 1.0 / (sd * sd);
        }
        return inverse(equations);
    }

    pooled_season season_;
    const pooled_fit& fit_;
};

pooled_season tiny_season() {
    tarewell::bench::simulation plan;
    plan.growers = 7;
    plan.sites = 3;
    plan.bales = 24;
    plan.bundles_in_bale = 3;
    plan.sd_site = 0.3;
    auto season = tarewell::bench::simulate(plan, 12).season;
    season.bales.resize(20);
    for (auto& bundle : season.bundles) {
        bundle.bale = bundle.bale >= 20 ? -1 : bundle.bale;
    }
    return season;
}

using spread = std::function<double(const by_brute_force&)>;

// Every choice is the best of all bundles on hand, and its sds are those of a fit with it weighed.
void check_choices(const pooled_season& season, weigh_goal goal, const spread& sd_of) {
    const pooled_model model(season);
    REQUIRE(model.fit().status == pooled_status::fitted);
    by_brute_force now(season, model.fit());
    const auto choices = model.weigh_next(6, goal);
    REQUIRE(choices.size() == 6);
    std::vector<char> weighed(season.bundles.size(), 0);
    for (const auto& choice : choices) {
        CHECK(choice.sd_before == Approx(sd_of(now)).epsilon(1e-8));
        double best = choice.sd_before;
        for (std::size_t b = 0; b < season.bundles.size(); ++b) {
            if (season.bundles[b].bale < 0 && weighed[b] == 0) {
                auto then = now;
                then.weigh(static_cast<int>(b));
                best = std::min(best, sd_of(then));
            }
        }
        now.weigh(choice.bundle);
        weighed[static_cast<std::size_t>(choice.bundle)] = 1;
        CHECK(choice.sd_after == Approx(sd_of(now)).epsilon(1e-8));
        CHECK(choice.sd_after == Approx(best).epsilon(1e-8));
    }
}

} // namespace

TEST_CASE("The bundles to weigh next for the total are those that a whole new covariance chooses") {
    check_choices(tiny_season(), weigh_goal::total, [](const by_brute_force& now) { return now.sd_of_total(); });
}

TEST_CASE("The bundles to weigh next for the growers are those that a whole new covariance chooses") {
    const auto season = tiny_season();
    check_choices(season, weigh_goal::growers, [&](const by_brute_force& now) { return now.sd_of_growers(season); });
}
