#include "audit/sparse_matrix.hpp"

#include <algorithm>
#include <stdexcept>

namespace tarewell::audit {

namespace {

std::size_t at(std::int64_t offset) { return static_cast<std::size_t>(offset); }

// Sums neighbours of the same column in rows whose columns ascend.
sparse_rows merge_duplicates(const sparse_rows& sorted) {
    sparse_rows merged;
    merged.rows = sorted.rows;
    merged.columns = sorted.columns;
    merged.start.reserve(sorted.start.size());
    merged.column.reserve(sorted.column.size());
    merged.value.reserve(sorted.value.size());
    for (int r = 0; r < sorted.rows; ++r) {
        const auto row_begin = merged.column.size();
        for (auto k = sorted.start[at(r)]; k < sorted.start[at(r + 1)]; ++k) {
            const int c = sorted.column[at(k)];
            if (merged.column.size() > row_begin && merged.column.back() == c) {
                merged.value.back() += sorted.value[at(k)];
            } else {
                merged.column.push_back(c);
                merged.value.push_back(sorted.value[at(k)]);
            }
        }
        merged.start.push_back(static_cast<std::int64_t>(merged.column.size()));
    }
    return merged;
}

} // namespace

sparse_rows rows_from_entries(int rows, int columns, const std::vector<sparse_entry>& entries) {
    // A counting sort by column, then a transpose: rows come out with ascending columns.
    sparse_rows by_column;
    by_column.rows = columns;
    by_column.columns = rows;
    by_column.start.assign(at(columns) + 1, 0);
    for (const auto& entry : entries) {
        if (entry.row < 0 || entry.row >= rows || entry.column < 0 || entry.column >= columns) {
            throw std::invalid_argument("sparse entry outside the matrix");
        }
        ++by_column.start[at(entry.column) + 1];
    }
    for (std::size_t c = 0; c < at(columns); ++c) {
        by_column.start[c + 1] += by_column.start[c];
    }
    by_column.column.resize(entries.size());
    by_column.value.resize(entries.size());
    auto next = by_column.start;
    for (const auto& entry : entries) {
        const auto slot = at(next[at(entry.column)]++);
        by_column.column[slot] = entry.row;
        by_column.value[slot] = entry.value;
    }
    return merge_duplicates(transpose(by_column));
}

sparse_rows transpose(const sparse_rows& matrix) {
    sparse_rows result;
    result.rows = matrix.columns;
    result.columns = matrix.rows;
    result.start.assign(at(matrix.columns) + 1, 0);
    result.column.resize(matrix.column.size());
    result.value.resize(matrix.value.size());
    for (const int c : matrix.column) {
        ++result.start[at(c) + 1];
    }
    for (std::size_t c = 0; c < at(matrix.columns); ++c) {
        result.start[c + 1] += result.start[c];
    }
    auto next = result.start;
    for (int r = 0; r < matrix.rows; ++r) {
        for (auto k = matrix.start[at(r)]; k < matrix.start[at(r + 1)]; ++k) {
            const auto slot = at(next[at(matrix.column[at(k)])]++);
            result.column[slot] = r;
            result.value[slot] = matrix.value[at(k)];
        }
    }
    return result;
}

symmetric_lower cross_product(const sparse_rows& matrix) {
    const auto columns = transpose(matrix);
    symmetric_lower product;
    product.size = matrix.columns;
    std::vector<double> sum(at(matrix.columns), 0.0);
    std::vector<int> seen(at(matrix.columns), -1);
    std::vector<int> touched;
    for (int j = 0; j < matrix.columns; ++j) {
        touched.assign(1, j);
        seen[at(j)] = j;
        sum[at(j)] = 0.0;
        for (auto k = columns.start[at(j)]; k < columns.start[at(j + 1)]; ++k) {
            const int r = columns.column[at(k)];
            const auto row_begin = matrix.column.begin() + matrix.start[at(r)];
            const auto row_end = matrix.column.begin() + matrix.start[at(r + 1)];
            for (auto c = std::lower_bound(row_begin, row_end, j); c != row_end; ++c) {
                const int i = *c;
                if (seen[at(i)] != j) {
                    seen[at(i)] = j;
                    sum[at(i)] = 0.0;
                    touched.push_back(i);
                }
                sum[at(i)] += columns.value[at(k)] * matrix.value[at(c - matrix.column.begin())];
            }
        }
        std::sort(touched.begin(), touched.end());
        for (const int i : touched) {
            product.row.push_back(i);
            product.value.push_back(sum[at(i)]);
        }
        product.start.push_back(static_cast<std::int64_t>(product.row.size()));
    }
    return product;
}

void multiply(const sparse_rows& matrix, const std::vector<double>& x, std::vector<double>& out) {
    out.resize(at(matrix.rows));
    for (int r = 0; r < matrix.rows; ++r) {
        double sum = 0.0;
        for (auto k = matrix.start[at(r)]; k < matrix.start[at(r + 1)]; ++k) {
            sum += matrix.value[at(k)] * x[at(matrix.column[at(k)])];
        }
        out[at(r)] = sum;
    }
}

} // namespace tarewell::audit
