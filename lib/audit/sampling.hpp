#pragma once

#include <cstdint>
#include <string>
#include <vector>

// Samples for a reviewer: how many, which ones (repeatable from the seed), and what they say
// afterwards. Risks and rates are shares: 0.05 is 5 %.
namespace tarewell::audit {

enum class attribute_model { poisson, binomial, hypergeometric };

// Upper limit of a Poisson mean when `errors` are found, at this risk: the gamma quantile
// (1 - risk; errors + 1). Throws std::invalid_argument unless 0 < risk < 1 and errors >= 0.
double poisson_factor(double risk, int errors);

// The same rounded up to two places, as audit tables print it.
double poisson_factor_as_printed(double risk, int errors);

struct attribute_plan {
    double risk = 0.05;      // of accepting a population at the tolerable rate
    double tolerable = 0.05; // rate, in (0, 1)
    double expected = 0.0;   // rate, in [0, tolerable)
    attribute_model model = attribute_model::binomial;
    int population = 0; // hypergeometric only, >= 1
};

struct attribute_size {
    bool feasible = false; // false: even the whole population (or 100,000 items) would not do
    int size = 0;
    int allowed = 0; // errors that the sample may hold: expected rate times size, rounded up
};

// Smallest sample whose `allowed` errors still show, at the risk, a rate below the tolerable one.
// Throws std::invalid_argument on values out of range.
attribute_size attribute_sample_size(const attribute_plan& plan);

struct attribute_result {
    double rate = 0.0;       // found
    double upper_rate = 0.0; // one-sided limit at the risk (Clopper and Pearson's for binomial)
    bool acceptable = false; // upper_rate <= tolerable
    std::string sentence;
};

// What `errors` in `size` items say. Throws std::invalid_argument on values out of range.
attribute_result evaluate_attribute(const attribute_plan& plan, int size, int errors);

// Representative sample of an attest engagement, 40 CFR 1090.1805(a)(1): population 1-25: the
// smaller of it and 19; 26-40: 20; 41-65: 25; 66 and more: 29. 0 for none.
int attest_sample_size(int population);

struct pps_item {
    int item = 0;
    int hits = 0;                  // times selected
    double draw_probability = 0.0; // size over the total of sizes
};

// `draws` draws with replacement, probability proportional to size, from the seed; by item.
// Throws std::invalid_argument when a size is negative or not finite, or all are 0.
std::vector<pps_item> pps_sample(const std::vector<double>& sizes, int draws, std::uint64_t seed);

struct monetary_plan {
    double book = 0.0;      // total of the items' values: money or weight, > 0
    double tolerable = 0.0; // misstatement, in (0, book]
    double expected = 0.0;  // misstatement, >= 0
    double risk = 0.05;
};

struct monetary_size {
    bool feasible = false; // false: expected misstatement leaves no room below the tolerable one
    int size = 0;
    double interval = 0.0; // book / size
};

// n = book factor / (tolerable - expected expansion), rounded up, factor for zero errors; expansion
// factors of the AICPA audit sampling guide (1 % 1.9, 5 % 1.6, 10 % 1.5, 15 % 1.4, 20 % 1.3,
// 25 % 1.25, 30 % 1.2, 37 % 1.15, 50 % 1; between them by straight lines).
// Throws std::invalid_argument on values out of range.
monetary_size monetary_sample_size(const monetary_plan& plan);

struct monetary_hit {
    int item = 0;
    int hits = 0;         // more than one when the item is larger than the interval
    bool certain = false; // value >= interval: examined in full, nothing is projected from it
};

// Systematic selection along the running total, random start from the seed. Items of value 0 are
// never selected. Throws std::invalid_argument when a value is negative or interval <= 0.
std::vector<monetary_hit> monetary_sample(const std::vector<double>& values, double interval, std::uint64_t seed);

struct examined_item {
    double book = 0.0;
    double audited = 0.0;
    bool certain = false;
};

struct monetary_result {
    double known = 0.0;           // misstatement of the items examined
    double projected = 0.0;       // taintings times interval, plus certain items' own
    double basic_precision = 0.0; // factor(0) times interval
    double incremental = 0.0;     // sum (factor(i) - factor(i-1) - 1) tainting_i interval
    double upper_limit = 0.0;     // of overstatement (Stringer's bound)
    bool acceptable = false;      // upper_limit <= tolerable
    std::string sentence;
};

// Overstatement (book above audited) of a monetary-unit sample; understatements are counted in
// `known` only. Throws std::invalid_argument unless interval > 0 and every book value is > 0.
monetary_result evaluate_monetary(const monetary_plan& plan, double interval, const std::vector<examined_item>& items);

} // namespace tarewell::audit
