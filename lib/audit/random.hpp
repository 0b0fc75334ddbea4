#pragma once

#include <cstdint>
#include <random>
#include <vector>

// Repeatable random numbers: the sequence depends on the seed only, on every standard library.
namespace tarewell::audit {

class seeded_random {
  public:
    explicit seeded_random(std::uint64_t seed) : engine_(seed) {}

    // The next 64 bits of std::mt19937_64, whose sequence the C++ standard fixes.
    std::uint64_t bits() { return engine_(); }

    // In [0, 1): the upper 53 bits over 2^53.
    double uniform() { return static_cast<double>(bits() >> 11U) * 0x1.0p-53; }

    // In 0 .. count - 1, without bias: bits below 2^64 mod count are drawn again, then the
    // remainder is taken. Throws std::invalid_argument when count is 0.
    std::uint64_t below(std::uint64_t count);

    // Standard normal by Marsaglia's polar method; the second of each pair is kept.
    double normal();

  private:
    std::mt19937_64 engine_;
    double spare_ = 0.0;
    bool has_spare_ = false;
};

// `count` different numbers out of 0 .. population - 1, in the order drawn: the head of a
// Fisher-Yates shuffle. Throws std::invalid_argument when count > population or either < 0.
std::vector<int> simple_random_sample(int population, int count, std::uint64_t seed);

} // namespace tarewell::audit
