#include "audit/sampling.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <stdexcept>

#include <boost/math/distributions/binomial.hpp>
#include <boost/math/distributions/gamma.hpp>
#include <boost/math/distributions/hypergeometric.hpp>
#include <boost/math/distributions/poisson.hpp>

#include "audit/random.hpp"

namespace tarewell::audit {

namespace {

constexpr int most_items = 100'000;

bool is_share(double value) { return value > 0.0 && value < 1.0; }

void check_plan(const attribute_plan& plan) {
    if (!is_share(plan.risk) || !is_share(plan.tolerable) || !(plan.expected >= 0.0) ||
        !(plan.expected < plan.tolerable) || (plan.model == attribute_model::hypergeometric && plan.population < 1)) {
        throw std::invalid_argument("a risk or rate of the sampling plan is out of range");
    }
}

// P(at most `errors` in `size`) from a population of which a share `rate` is wrong.
double chance_of_at_most(const attribute_plan& plan, int errors, int size, double rate) {
    if (errors >= size) {
        return 1.0;
    }
    switch (plan.model) {
    case attribute_model::poisson:
        return cdf(boost::math::poisson(size * rate), errors);
    case attribute_model::binomial:
        return cdf(boost::math::binomial(size, rate), errors);
    case attribute_model::hypergeometric:
        break;
    }
    const auto wrong = static_cast<int>(std::ceil(rate * plan.population - 1e-9));
    if (errors >= wrong) {
        return 1.0;
    }
    if (errors < size + wrong - plan.population) {
        return 0.0;
    }
    const boost::math::hypergeometric among(static_cast<unsigned>(wrong), static_cast<unsigned>(size),
                                            static_cast<unsigned>(plan.population));
    return cdf(among, static_cast<unsigned>(errors));
}

// Rate at which so few errors have just the risk's chance.
double upper_rate(const attribute_plan& plan, int size, int errors) {
    if (errors >= size) {
        return 1.0;
    }
    switch (plan.model) {
    case attribute_model::poisson:
        return std::min(1.0, poisson_factor(plan.risk, errors) / size);
    case attribute_model::binomial:
        return boost::math::binomial::find_upper_bound_on_p(size, errors, plan.risk);
    case attribute_model::hypergeometric:
        break;
    }
    // The most wrong items that are still credible.
    int low = errors;
    int high = plan.population;
    while (low < high) {
        const int middle = low + (high - low + 1) / 2;
        const double chance = chance_of_at_most(plan, errors, size, static_cast<double>(middle) / plan.population);
        if (chance > plan.risk) {
            low = middle;
        } else {
            high = middle - 1;
        }
    }
    return static_cast<double>(low) / plan.population;
}

} // namespace

double poisson_factor(double risk, int errors) {
    if (!is_share(risk) || errors < 0) {
        throw std::invalid_argument("a Poisson factor needs a risk within 0 and 1 and errors >= 0");
    }
    return quantile(complement(boost::math::gamma_distribution<>(errors + 1.0), risk));
}

double poisson_factor_as_printed(double risk, int errors) {
    return std::ceil(100.0 * poisson_factor(risk, errors) - 1e-9) / 100.0;
}

attribute_size attribute_sample_size(const attribute_plan& plan) {
    check_plan(plan);
    const int most = plan.model == attribute_model::hypergeometric ? plan.population : most_items;
    attribute_size result;
    for (int size = 1; size <= most; ++size) {
        const auto allowed = static_cast<int>(std::ceil(plan.expected * size - 1e-9));
        if (chance_of_at_most(plan, allowed, size, plan.tolerable) <= plan.risk) {
            return {true, size, allowed};
        }
    }
    return result;
}

attribute_result evaluate_attribute(const attribute_plan& plan, int size, int errors) {
    check_plan(plan);
    if (size < 1 || errors < 0 || errors > size ||
        (plan.model == attribute_model::hypergeometric && size > plan.population)) {
        throw std::invalid_argument("a sample has at least one item and no more errors than items");
    }
    attribute_result result;
    result.rate = static_cast<double>(errors) / size;
    result.upper_rate = upper_rate(plan, size, errors);
    result.acceptable = result.upper_rate <= plan.tolerable + 1e-12;
    result.sentence = result.acceptable ? "The sample shows, at the stated risk, a rate below the tolerable one."
                                        : "The sample does not show a rate below the tolerable one.";
    return result;
}

int attest_sample_size(int population) {
    if (population <= 25) {
        return std::max(0, std::min(population, 19));
    }
    if (population <= 40) {
        return 20;
    }
    return population <= 65 ? 25 : 29;
}

std::vector<pps_item> pps_sample(const std::vector<double>& sizes, int draws, std::uint64_t seed) {
    std::vector<double> running;
    double total = 0.0;
    for (const double size : sizes) {
        if (!(size >= 0.0) || !std::isfinite(size)) {
            throw std::invalid_argument("a size is a finite number from 0");
        }
        running.push_back(total += size);
    }
    if (!(total > 0.0) || draws < 0) {
        throw std::invalid_argument("drawing by size needs a size above 0");
    }
    std::vector<int> hits(sizes.size(), 0);
    seeded_random random(seed);
    for (int draw = 0; draw < draws; ++draw) {
        const auto place = std::upper_bound(running.begin(), running.end(), random.uniform() * total);
        // Rounding can only carry the draw to the end; the last item with a size takes it.
        const auto item = place == running.end() ? std::lower_bound(running.begin(), running.end(), total) : place;
        ++hits[static_cast<std::size_t>(item - running.begin())];
    }
    std::vector<pps_item> sample;
    for (std::size_t i = 0; i < sizes.size(); ++i) {
        if (hits[i] > 0) {
            sample.push_back({static_cast<int>(i), hits[i], sizes[i] / total});
        }
    }
    return sample;
}

} // namespace tarewell::audit
