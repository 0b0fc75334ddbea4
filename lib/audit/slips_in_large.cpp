#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

#include "audit/fair_calls.hpp"
#include "audit/pooled_parts.hpp"
#include "audit/variance_search.hpp"

// Slips of a season too large for many worlds: the best world alone, at the most likely variances, by the sparse
// solver. Each round accepts the slips that stand out from all other explanations of their bales, and refits.
namespace tarewell::audit {

namespace {

constexpr int most_rounds = 8;
constexpr double accept_from = .6;
constexpr double worth_keeping = -3.0;   // log odds
constexpr std::size_t most_solved = 100; // claims whose effect on the fit is worked out exactly, each round
constexpr double determined = 1e-8;

std::size_t at(std::int64_t index) { return static_cast<std::size_t>(index); }

struct suspect {
    bool ticket = false;
    int bale = -1;
    claim_slip claim;
    std::vector<int> rows; // it would explain
    double log_odds = 0.0; // of this slip alone against none
    double probability = 0.0;
};

class large_search {
  public:
    large_search(const slip_ground& ground, const slip_options& options)
        : ground_(ground), options_(options), out_(ground.unusable),
          correction_(ground.season.weighed.bundles.size(), 1.0), scale_(at(ground.season.weighed.bases), 1.0) {
        for (int round = 0; round < (scale_.size() > 1 ? 2 : 1) && fit(); ++round) {
            for (std::size_t basis = 0; basis < scale_.size(); ++basis) {
                scale_[basis] *= std::clamp(mean_of(static_cast<int>(basis)) / mean_of(ground_.largest_class), .2, 5.0);
            }
        }
        fit();
    }

    bool usable() const { return solver_ != nullptr; }
    bool approximate() const { return solver_->approximate(); }
    double class_ratio(int basis) const {
        return prepared_.basis_weighed[at(basis)] != 0 ? mean_of(basis) * scale_[at(basis)] : 0.0;
    }

    // Accepts what stands out, until nothing does. What is left open stays in `open`.
    void run(slip_world& world, std::vector<suspect>& accepted, std::vector<suspect>& open) {
        for (int round = 0; round < most_rounds; ++round) {
            open = suspects();
            std::vector<char> touched(prepared_.bale_of_row.size(), 0);
            bool any = false;
            for (const auto& one : open) {
                const bool free =
                    std::none_of(one.rows.begin(), one.rows.end(), [&](int row) { return touched[at(row)] != 0; });
                if (one.probability < accept_from || !free) {
                    continue;
                }
                any = true;
                for (const int row : one.rows) {
                    touched[at(row)] = 1;
                }
                accept(one, world);
                accepted.push_back(one);
            }
            if (!any || !fit()) {
                return;
            }
        }
        open = suspects();
    }

    fair_posterior posterior() const {
        const auto& season = corrected_;
        const int fixed = prepared_.fixed;
        form_builder forms(fixed, prepared_.effects(season));
        std::vector<double> share(at(season.growers) * at(fixed), 0.0);
        std::vector<double> claim(at(season.growers), 0.0);
        for (const auto& bundle : season.bundles) {
            if (bundle.bale >= 0 && prepared_.row_of_bale[at(bundle.bale)] >= 0) {
                share[at(bundle.grower) * at(fixed) + at(prepared_.basis_column[at(bundle.basis)])] += bundle.estimate;
                claim[at(bundle.grower)] += bundle.estimate;
            }
        }
        for (int g = 0; g < season.growers; ++g) {
            forms.add_random(forms.add(), prepared_.grower_effect(g), 1.0);
        }
        const auto ready = solver_->make_forms(forms.fixed(), forms.random());
        const auto values = solver_->value(state_, ready);
        const double s2 = state_.residual / state_.freedom;
        const auto& inverse = state_.fixed_inverse;
        std::vector<fair_posterior::parts> parts;
        for (std::size_t g = 0; g < claim.size(); ++g) {
            const double* slope = values.random_slope.data() + g * at(fixed);
            double* mix = share.data() + g * at(fixed);
            fair_posterior::parts one{values.random_mean[g],
                                      s2 * (values.own[g] + bilinear(inverse, slope, slope, fixed)), 1.0, 0.0, 0.0};
            if (claim[g] > 0.0) {
                std::transform(mix, mix + fixed, mix, [&](double part) { return part / claim[g]; });
                one.fixed = std::inner_product(mix, mix + fixed, state_.beta.begin(), 0.0);
                one.fixed_variance = s2 * bilinear(inverse, mix, mix, fixed);
                one.covariance = s2 * bilinear(inverse, slope, mix, fixed);
            }
            parts.push_back(one);
        }
        return {claim_corrections(ground_.season.weighed, correction_), std::move(parts), state_.freedom};
    }

  private:
    bool fit() {
        corrected_ = ground_.season.weighed;
        for (std::size_t b = 0; b < corrected_.bundles.size(); ++b) {
            corrected_.bundles[b].estimate *= correction_[b] * scale_[at(corrected_.bundles[b].basis)];
        }
        auto prepared = prepare(corrected_, out_);
        if (static_cast<int>(prepared.bale_of_row.size()) < prepared.fixed + 2 || !prepared.grower_block) {
            return false;
        }
        auto made = std::make_unique<mixed_solver>(whitened_design(corrected_, prepared, 0.0), sparse_rows{},
                                                   limits_of({}),
                                                   iterative_settings{});
        theta_ = find_variances(*made, options_.threads, theta_).point;
        state_ = made->evaluate(theta_);
        for (auto& theta : theta_) {
            theta = std::clamp(theta, 0.05, 5.0); // where the next fit starts
        }
        prepared_ = std::move(prepared);
        solver_ = std::move(made);
        return true;
    }

    double mean_of(int basis) const { return state_.beta[at(prepared_.basis_column[at(basis)])]; }

    void accept(const suspect& one, slip_world& world) {
        if (one.ticket) {
            out_[at(one.bale)] = 1;
            world.wrong_tickets.push_back(one.bale);
            return;
        }
        world.claims.push_back(one.claim);
        for (std::size_t b = 0; b < correction_.size(); ++b) {
            const int grower = corrected_.bundles[b].grower;
            if (one.claim.index == (one.claim.all_of_grower ? grower : ground_.season.registration[b])) {
                correction_[b] *= one.claim.factor;
            }
            if (ground_.grower_of(one.claim) == grower) {
                settled_.push_back(ground_.season.registration[b]);
            }
        }
        std::sort(settled_.begin(), settled_.end());
    }

    std::vector<suspect> suspects() const {
        std::vector<suspect> found;
        find_tickets(found);
        find_claims(false, found);
        find_claims(true, found);
        found.erase(std::remove_if(found.begin(), found.end(),
                                   [](const suspect& one) { return !(one.log_odds > worth_keeping); }),
                    found.end());
        std::stable_sort(found.begin(), found.end(),
                         [](const suspect& a, const suspect& b) { return a.log_odds > b.log_odds; });
        weigh_against_each_other(found);
        return found;
    }

    // P of each among all that would explain one of its bales.
    static void weigh_against_each_other(std::vector<suspect>& found) {
        std::map<int, std::vector<std::size_t>> by_row;
        for (std::size_t k = 0; k < found.size(); ++k) {
            for (const int row : found[k].rows) {
                by_row[row].push_back(k);
            }
        }
        for (auto& one : found) {
            std::vector<std::size_t> rivals;
            for (const int row : one.rows) {
                rivals.insert(rivals.end(), by_row[row].begin(), by_row[row].end());
            }
            std::sort(rivals.begin(), rivals.end());
            rivals.erase(std::unique(rivals.begin(), rivals.end()), rivals.end());
            std::vector<double> odds{0.0};
            for (const auto k : rivals) {
                odds.push_back(found[k].log_odds);
            }
            one.probability = std::exp(one.log_odds - log_sum_exp(odds));
        }
    }

    // As slip_fit::without_each_row, at one point.
    void find_tickets(std::vector<suspect>& found) const {
        const auto& design = solver_->design();
        const auto rows = at(solver_->rows());
        const auto fixed = at(design.fixed);
        std::vector<double> x(rows * fixed);
        for (std::size_t row = 0; row < rows; ++row) {
            for (std::size_t c = 0; c < fixed; ++c) {
                x[row * fixed + c] = design.x[c * rows + row];
            }
        }
        const auto forms = solver_->make_forms(std::move(x), design.z);
        const auto values = solver_->value(state_, forms);
        const double nu = state_.freedom;
        const double constant = std::lgamma(0.5 * (nu - 1.0)) - std::lgamma(0.5 * nu) + 0.5 * std::log(M_PI) +
                                0.5 * nu * std::log(state_.residual);
        for (std::size_t row = 0; row < rows; ++row) {
            const int bale = prepared_.bale_of_row[row];
            std::vector<double> slope(fixed);
            for (std::size_t c = 0; c < fixed; ++c) {
                slope[c] = forms.fixed[row * fixed + c] + values.random_slope[row * fixed + c];
            }
            const double p =
                1.0 - values.own[row] - bilinear(state_.fixed_inverse, slope.data(), slope.data(), design.fixed);
            const double py = design.y[row] - values.fixed_mean[row] - values.random_mean[row];
            if (p > determined && !ground_.ticket_seen(bale)) {
                suspect one;
                one.ticket = true;
                one.bale = bale;
                one.rows = {static_cast<int>(row)};
                one.log_odds = constant + log_prior_of_ticket(ground_.net(bale)) - 0.5 * std::log(p) +
                               0.5 * std::log(prepared_.square_sum[row]) -
                               0.5 * (nu - 1.0) * std::log(std::max(state_.residual - py * py / p, 1e-300));
                found.push_back(std::move(one));
            }
        }
    }

    std::vector<double> py() const {
        const auto& design = solver_->design();
        std::vector<double> left;
        multiply(design.z, state_.effects, left);
        for (std::size_t row = 0; row < left.size(); ++row) {
            left[row] = design.y[row] - left[row];
            for (std::size_t c = 0; c < at(design.fixed); ++c) {
                left[row] -= design.x[c * left.size() + row] * state_.beta[c];
            }
        }
        return left;
    }

    bool may_be_wrong(bool all_of_grower, int registration) const {
        if (std::binary_search(settled_.begin(), settled_.end(), registration)) {
            return false;
        }
        const int grower = ground_.owner[at(registration)];
        return all_of_grower ? ground_.several[at(grower)] != 0 && ground_.some_right[at(grower)] == 0
                             : !ground_.claim_is_right(registration);
    }

    // Claims' expected weights over sqrt(q), by registration or grower and row.
    std::map<int, std::map<int, double>> claims_by_row(bool all_of_grower) const {
        std::map<int, std::map<int, double>> found;
        for (std::size_t b = 0; b < corrected_.bundles.size(); ++b) {
            const auto& bundle = corrected_.bundles[b];
            const int row = bundle.bale < 0 ? -1 : prepared_.row_of_bale[at(bundle.bale)];
            const int registration = ground_.season.registration[b];
            if (row >= 0 && may_be_wrong(all_of_grower, registration)) {
                found[all_of_grower ? bundle.grower : registration][row] +=
                    bundle.estimate * mean_of(bundle.basis) / std::sqrt(prepared_.square_sum[at(row)]);
            }
        }
        return found;
    }

    // d'Pd of a column over the rows: d'd less what the fitted effects take up.
    double form_of(const std::map<int, double>& d) const {
        const auto& design = solver_->design();
        std::vector<double> x(at(design.fixed), 0.0);
        std::vector<double> a(at(design.z.columns), 0.0);
        double squares = 0.0;
        for (const auto& [row, value] : d) {
            squares += value * value;
            for (std::size_t c = 0; c < x.size(); ++c) {
                x[c] += value * design.x[c * design.y.size() + at(row)];
            }
            for (auto k = design.z.start[at(row)]; k < design.z.start[at(row) + 1]; ++k) {
                a[at(design.z.column[at(k)])] += value * design.z.value[at(k)];
            }
        }
        std::vector<double> solved;
        std::vector<double> slope;
        return squares - solver_->solve_form(state_, x, a, solved, slope);
    }

    void find_claims(bool all_of_grower, std::vector<suspect>& found) const {
        const auto claims = claims_by_row(all_of_grower);
        const auto score_of_row = py();
        struct column {
            double least_gain;
            double score;
            std::map<int, std::map<int, double>>::const_iterator of;
        };
        std::vector<column> columns;
        for (auto of = claims.begin(); of != claims.end(); ++of) {
            double score = 0.0;
            double squares = 0.0;
            for (const auto& [row, value] : of->second) {
                score += value * score_of_row[at(row)];
                squares += value * value;
            }
            columns.push_back({score * score / squares, score, of});
        }
        std::stable_sort(columns.begin(), columns.end(),
                         [](const column& a, const column& b) { return a.least_gain > b.least_gain; });
        columns.resize(std::min(columns.size(), most_solved));
        std::vector<suspect> made(columns.size());
        for_each_index(static_cast<int>(columns.size()), options_.threads, [&](int k) {
            const auto& [gain, score, of] = columns[at(k)];
            auto& one = made[at(k)];
            one.claim.all_of_grower = all_of_grower;
            one.claim.index = of->first;
            for (const auto& [row, value] : of->second) {
                one.rows.push_back(row);
            }
            const double form = form_of(of->second);
            for (std::size_t f = 0; f < slip_factors().size(); ++f) {
                const double times = slip_factors()[f] - 1.0;
                const double residual = state_.residual - 2.0 * times * score + times * times * form;
                one.claim.shares.push_back(log_prior_of_claim(f) -
                                           0.5 * state_.freedom *
                                               std::log(std::max(residual, 1e-300) / state_.residual));
            }
            one.log_odds = log_sum_exp(one.claim.shares);
            const auto best = std::max_element(one.claim.shares.begin(), one.claim.shares.end());
            one.claim.factor = slip_factors()[at(best - one.claim.shares.begin())];
            for (auto& share : one.claim.shares) {
                share = std::exp(share - one.log_odds);
            }
        });
        found.insert(found.end(), made.begin(), made.end());
    }

    const slip_ground& ground_;
    const slip_options& options_;
    std::vector<char> out_;
    std::vector<double> correction_;
    std::vector<double> scale_;
    std::vector<int> settled_; // registrations of growers whose claims were corrected
    pooled_season corrected_;
    prepared_season prepared_;
    std::unique_ptr<mixed_solver> solver_;
    std::vector<double> theta_;
    mixed_state state_;
};

void note(const suspect& one, const slip_ground& ground, slip_report& report) {
    const auto raise = [&](double& p) { p = std::max(p, one.probability); };
    if (one.ticket) {
        raise(report.p_ticket[at(one.bale)]);
        return;
    }
    raise(report.growers[at(ground.grower_of(one.claim))].p_slip);
    for (std::size_t r = 0; r < ground.owner.size(); ++r) {
        if (one.claim.index == (one.claim.all_of_grower ? ground.owner[r] : static_cast<int>(r))) {
            raise(report.p_registration[r]);
        }
    }
}

} // namespace

void find_slips_in_large(const slip_ground& ground, const slip_options& options, slip_report& report) {
    large_search search(ground, options);
    if (!search.usable()) {
        return;
    }
    report.status = slip_status::best_world;
    report.sentence =
        "So many bales hang together that calls rest on the one likeliest world alone, at the most likely "
        "variances.";
    std::vector<suspect> accepted;
    std::vector<suspect> open;
    slip_world world;
    world.weight = 1.0;
    for (int basis = 0; basis < ground.season.weighed.bases; ++basis) {
        report.class_ratio.push_back(search.class_ratio(basis));
    }
    search.run(world, accepted, open);
    for (const auto& one : open) {
        note(one, ground, report);
    }
    for (const auto& one : accepted) {
        note(one, ground, report);
        report.named.push_back(
            {{one.ticket, one.ticket ? one.bale : ground.grower_of(one.claim), one.probability}, 1.0, -1, false});
    }
    report.worlds.push_back(std::move(world));
    const std::vector<fair_posterior> posterior{search.posterior()};
    for_each_index(ground.season.weighed.growers, options.threads,
                   [&](int g) { fill_ratio({1.0}, posterior, g, options, report.growers[at(g)]); });
}

} // namespace tarewell::audit
