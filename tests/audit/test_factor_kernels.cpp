// Both builds of the factor's arithmetic against the definition: L L' = A, and the inverse times A.
#include "audit/factor_kernels.hpp"
#include "audit/random.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <vector>

using namespace tarewell::audit;

namespace {

/// B B' + I of random B: positive definite.
std::vector<double> some_matrix(std::size_t size) {
    seeded_random lots(7);
    std::vector<double> b(size * size), a(size * size, 0.0);
    for (auto& each : b)
        each = lots.normal();
    for (std::size_t i = 0; i < size; ++i)
        for (std::size_t j = 0; j < size; ++j)
            for (std::size_t k = 0; k < size; ++k)
                a[j * size + i] += b[k * size + i] * b[k * size + j] + (i == j && k == 0 ? 1.0 : 0.0);
    return a;
}

void check(const factor_kernels& kernels) {
    for (const std::size_t size : {1, 3, 17, 64, 131}) {
        const auto a = some_matrix(size);
        auto factor = a;
        const auto rows = static_cast<std::ptrdiff_t>(size);
        const double determinant = kernels.eliminate(factor.data(), rows, rows);
        double logs = 0.0, worst = 0.0, worst_inverse = 0.0;
        std::vector<double> inverse(size * size, 0.0);
        kernels.invert(inverse.data(), factor.data(), rows, rows);
        for (std::size_t i = 0; i < size; ++i) {
            logs += 2.0 * std::log(factor[i * size + i]);
            for (std::size_t j = 0; j <= i; ++j) {
                double product = 0.0, unit = 0.0;
                for (std::size_t k = 0; k <= j; ++k)
                    product += factor[k * size + i] * factor[k * size + j];
                for (std::size_t k = 0; k < size; ++k)
                    unit += inverse[k * size + i] * a[j * size + k];
                worst = std::max(worst, std::abs(product - a[j * size + i]));
                worst_inverse = std::max(worst_inverse, std::abs(unit - (i == j ? 1.0 : 0.0)));
            }
        }
        CAPTURE(size);
        CHECK(determinant == Approx(logs).epsilon(1e-12));
        CHECK(worst < 1e-10 * static_cast<double>(size));
        CHECK(worst_inverse < 1e-8);
    }
    std::vector<double> indefinite{1.0, 2.0, 2.0, 1.0};
    CHECK(std::isnan(kernels.eliminate(indefinite.data(), 2, 2)));
}

} // namespace

TEST_CASE("the factor's arithmetic is right in each build that the processor runs") {
    check(plain_kernels());
    if (const auto* wide = avx2_kernels()) check(*wide);
    check(best_kernels());
}
