#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

#include "audit/pooled_parts.hpp"

// Growers that the scale cannot tell apart.
namespace tarewell::audit {

namespace {

constexpr double alike_below = -0.9;  // posterior correlation
constexpr double proportional = 1e-9; // relative
constexpr std::size_t most_pairs = 20'000'000;

std::size_t at(int index) { return static_cast<std::size_t>(index); }

class union_find {
  public:
    explicit union_find(int count) : parent_(at(count)) { std::iota(parent_.begin(), parent_.end(), 0); }
    int find(int k) {
        while (parent_[at(k)] != k) {
            parent_[at(k)] = parent_[at(parent_[at(k)])];
            k = parent_[at(k)];
        }
        return k;
    }
    void join(int a, int b) { parent_[at(std::max(find(a), find(b)))] = std::min(find(a), find(b)); }

  private:
    std::vector<int> parent_;
};

// Claims by grower and bale of the fit.
sparse_rows claims_by_grower(const pooled_season& season, const prepared_season& prepared) {
    std::vector<sparse_entry> entries;
    for (const auto& bundle : season.bundles) {
        const int row = bundle.bale < 0 ? -1 : prepared.row_of_bale[at(bundle.bale)];
        if (row >= 0 && bundle.estimate > 0.0) {
            entries.push_back({bundle.grower, row, bundle.estimate});
        }
    }
    return rows_from_entries(season.growers, static_cast<int>(prepared.bale_of_row.size()), entries);
}

bool same_proportion(const sparse_rows& claims, int a, int b) {
    const auto i = static_cast<std::size_t>(claims.start[at(a)]);
    const auto j = static_cast<std::size_t>(claims.start[at(b)]);
    const auto count = static_cast<std::size_t>(claims.start[at(a) + 1]) - i;
    const double ratio = claims.value[j] / claims.value[i];
    for (std::size_t k = 0; k < count; ++k) {
        if (std::abs(claims.value[j + k] - ratio * claims.value[i + k]) > proportional * claims.value[j + k]) {
            return false;
        }
    }
    return true;
}

// Joins growers whose columns are proportional; marks them.
void join_proportional(const sparse_rows& claims, union_find& groups, std::vector<char>& marked) {
    std::map<std::vector<int>, std::vector<int>> by_bales;
    for (int g = 0; g < claims.rows; ++g) {
        const auto begin = claims.column.begin() + claims.start[at(g)];
        const auto end = claims.column.begin() + claims.start[at(g) + 1];
        if (begin != end) {
            by_bales[{begin, end}].push_back(g);
        }
    }
    for (const auto& [bales, growers] : by_bales) {
        for (std::size_t i = 0; i < growers.size(); ++i) {
            for (std::size_t j = 0; j < i; ++j) {
                if (same_proportion(claims, growers[j], growers[i])) {
                    groups.join(growers[j], growers[i]);
                    marked[at(growers[j])] = marked[at(growers[i])] = 1;
                    break;
                }
            }
        }
    }
}

std::vector<std::pair<int, int>> bale_mates(const sparse_rows& claims) {
    const auto by_bale = transpose(claims);
    std::vector<std::pair<int, int>> pairs;
    for (int row = 0; row < by_bale.rows; ++row) {
        for (auto i = by_bale.start[at(row)]; i < by_bale.start[at(row) + 1]; ++i) {
            for (auto j = i + 1; j < by_bale.start[at(row) + 1]; ++j) {
                pairs.emplace_back(by_bale.column[static_cast<std::size_t>(i)],
                                   by_bale.column[static_cast<std::size_t>(j)]);
            }
        }
        if (pairs.size() > most_pairs) {
            return {};
        }
    }
    std::sort(pairs.begin(), pairs.end());
    pairs.erase(std::unique(pairs.begin(), pairs.end()), pairs.end());
    return pairs;
}

// Posterior correlation of two growers' effects at the REML estimates, for each pair.
std::vector<double> correlations(const mixed_solver& solver, const std::vector<double>& theta,
                                 const std::vector<std::pair<int, int>>& pairs, int growers) {
    const int fixed = solver.design().fixed;
    form_builder forms(fixed, solver.design().z.columns);
    for (int g = 0; g < growers; ++g) {
        forms.add_random(forms.add(), g, 1.0);
    }
    for (const auto& [a, b] : pairs) {
        const int form = forms.add();
        forms.add_random(form, a, 1.0);
        forms.add_random(form, b, 1.0);
    }
    const auto ready = solver.make_forms(forms.fixed(), forms.random());
    const auto state = solver.evaluate(theta);
    const auto values = solver.value(state, ready);
    const auto variance = [&](std::size_t f) {
        const double* slope = values.random_slope.data() + f * at(fixed);
        return values.own[f] + bilinear(state.fixed_inverse, slope, slope, fixed);
    };
    std::vector<double> result;
    for (std::size_t k = 0; k < pairs.size(); ++k) {
        const double va = variance(at(pairs[k].first));
        const double vb = variance(at(pairs[k].second));
        const double both = variance(at(growers) + k);
        result.push_back(va > 0.0 && vb > 0.0 ? (both - va - vb) / (2.0 * std::sqrt(va * vb)) : 0.0);
    }
    return result;
}

} // namespace

void pooled_parts::find_groups() {
    const auto claims = claims_by_grower(season, prepared);
    union_find joined(season.growers);
    std::vector<char> marked(at(season.growers), 0);
    join_proportional(claims, joined, marked);
    if (usable() && prepared.grower_block && fit.sd_grower > 0.0 && !solver->approximate()) {
        const auto pairs = bale_mates(claims);
        const auto correlation = correlations(*solver, best.point, pairs, season.growers);
        for (std::size_t k = 0; k < pairs.size(); ++k) {
            const auto [a, b] = pairs[k];
            if (correlation[k] < alike_below && joined.find(a) != joined.find(b)) {
                joined.join(a, b);
                marked[at(a)] |= 2;
                marked[at(b)] |= 2;
            }
        }
    }
    std::map<int, grower_group> by_head;
    for (int g = 0; g < season.growers; ++g) {
        if (marked[at(g)] != 0) {
            by_head[joined.find(g)].growers.push_back(g);
        }
    }
    for (auto& [head, group] : by_head) {
        group.always_proportional =
            std::all_of(group.growers.begin(), group.growers.end(), [&](int g) { return marked[at(g)] == 1; });
        groups.push_back(std::move(group));
    }
}

} // namespace tarewell::audit
