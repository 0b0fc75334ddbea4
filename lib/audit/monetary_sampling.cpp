#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>
#include <stdexcept>
#include <utility>

#include "audit/random.hpp"
#include "audit/sampling.hpp"

namespace tarewell::audit {

namespace {

// AICPA audit sampling guide, expansion factors for expected misstatement (from memory, mark M;
// the 5 % value is confirmed by the guide's example used in the tests).
constexpr std::array<std::pair<double, double>, 9> expansion_table{{{0.01, 1.9},
                                                                    {0.05, 1.6},
                                                                    {0.10, 1.5},
                                                                    {0.15, 1.4},
                                                                    {0.20, 1.3},
                                                                    {0.25, 1.25},
                                                                    {0.30, 1.2},
                                                                    {0.37, 1.15},
                                                                    {0.50, 1.0}}};

double expansion_factor(double risk) {
    if (risk <= expansion_table.front().first) {
        return expansion_table.front().second;
    }
    for (std::size_t k = 1; k < expansion_table.size(); ++k) {
        const auto [low_risk, low] = expansion_table[k - 1];
        const auto [high_risk, high] = expansion_table[k];
        if (risk <= high_risk) {
            return low + (high - low) * (risk - low_risk) / (high_risk - low_risk);
        }
    }
    return 1.0;
}

void check_plan(const monetary_plan& plan) {
    if (!(plan.book > 0.0) || !(plan.tolerable > 0.0) || !(plan.tolerable <= plan.book) || !(plan.expected >= 0.0) ||
        !(plan.risk > 0.0 && plan.risk < 1.0)) {
        throw std::invalid_argument("a value of the monetary-unit plan is out of range");
    }
}

} // namespace

monetary_size monetary_sample_size(const monetary_plan& plan) {
    check_plan(plan);
    monetary_size result;
    const double room = plan.tolerable - plan.expected * expansion_factor(plan.risk);
    if (!(room > 0.0)) {
        return result;
    }
    const double size = std::ceil(plan.book * poisson_factor(plan.risk, 0) / room - 1e-9);
    if (size > 1e9) {
        return result;
    }
    result.feasible = true;
    result.size = static_cast<int>(size);
    result.interval = plan.book / size;
    return result;
}

std::vector<monetary_hit> monetary_sample(const std::vector<double>& values, double interval, std::uint64_t seed) {
    if (!(interval > 0.0)) {
        throw std::invalid_argument("a sampling interval is above 0");
    }
    seeded_random random(seed);
    const double start = random.uniform() * interval;
    std::vector<monetary_hit> sample;
    double total = 0.0;
    double point = 0.0; // points passed so far; the next lies at start + point * interval
    for (std::size_t i = 0; i < values.size(); ++i) {
        if (!(values[i] >= 0.0) || !std::isfinite(values[i])) {
            throw std::invalid_argument("a value is a finite number from 0");
        }
        total += values[i];
        int hits = 0;
        while (start + point * interval < total) {
            point += 1.0;
            ++hits;
        }
        const bool certain = values[i] >= interval;
        if (hits > 0 || certain) {
            sample.push_back({static_cast<int>(i), std::max(hits, 1), certain});
        }
    }
    return sample;
}

monetary_result evaluate_monetary(const monetary_plan& plan, double interval, const std::vector<examined_item>& items) {
    check_plan(plan);
    if (!(interval > 0.0)) {
        throw std::invalid_argument("a sampling interval is above 0");
    }
    monetary_result result;
    std::vector<double> taintings;
    for (const auto& item : items) {
        if (!(item.book > 0.0) || !std::isfinite(item.audited)) {
            throw std::invalid_argument("an examined item has a book value above 0");
        }
        const double over = item.book - item.audited;
        result.known += over;
        if (item.certain) {
            result.projected += over;
        } else if (over > 0.0) {
            taintings.push_back(over / item.book);
            result.projected += taintings.back() * interval;
        }
    }
    std::sort(taintings.begin(), taintings.end(), std::greater<>());
    result.basic_precision = poisson_factor(plan.risk, 0) * interval;
    for (std::size_t i = 0; i < taintings.size(); ++i) {
        const int errors = static_cast<int>(i) + 1;
        const double step = poisson_factor(plan.risk, errors) - poisson_factor(plan.risk, errors - 1) - 1.0;
        result.incremental += step * taintings[i] * interval;
    }
    result.upper_limit = result.projected + result.basic_precision + result.incremental;
    result.acceptable = result.upper_limit <= plan.tolerable;
    result.sentence = result.acceptable ? "The overstatement is, at the stated risk, below the tolerable one."
                                        : "The overstatement may be above the tolerable one.";
    return result;
}

} // namespace tarewell::audit
