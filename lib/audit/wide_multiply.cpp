#include "audit/wide_multiply.hpp"

#include <algorithm>
#include <array>
#include <utility>

namespace tarewell::audit {

namespace {

constexpr std::size_t widest = 12;

std::size_t at(std::int64_t offset) { return static_cast<std::size_t>(offset); }

// The strip of `width` columns that begins at x and out; rows lie `stride` apart.
template <std::size_t width>
void multiply_strip(const sparse_rows& z, const double* x, double* out, std::size_t stride) {
    for (int r = 0; r < z.rows; ++r) {
        std::array<double, width> sum{};
        for (auto k = z.start[at(r)]; k < z.start[at(r) + 1]; ++k) {
            const double* from = x + at(z.column[at(k)]) * stride;
            const double value = z.value[at(k)];
            for (std::size_t c = 0; c < width; ++c) {
                sum[c] += value * from[c];
            }
        }
        std::copy(sum.begin(), sum.end(), out + at(r) * stride);
    }
}

using strip_function = void (*)(const sparse_rows&, const double*, double*, std::size_t);

template <std::size_t... narrower> constexpr std::array<strip_function, sizeof...(narrower)>
all_strips(std::index_sequence<narrower...> /*widths less one*/) {
    return {multiply_strip<narrower + 1>...};
}

constexpr auto strip_of_width = all_strips(std::make_index_sequence<widest>{});

} // namespace

void multiply_all(const sparse_rows& z, const row_matrix& x, row_matrix& out) {
    const auto columns = static_cast<std::size_t>(x.cols());
    out.resize(z.rows, x.cols());
    for (std::size_t from = 0; from < columns; from += widest) {
        const auto width = std::min(widest, columns - from);
        strip_of_width[width - 1](z, x.data() + from, out.data() + from, columns);
    }
}

} // namespace tarewell::audit
