#pragma once

#include <cstdint>
#include <vector>

// Sparse containers shared by the mixed model's parts. Plain vectors, no Eigen.
namespace tarewell::audit {

struct sparse_entry {
    int row = 0;
    int column = 0;
    double value = 0.0;
};

// Compressed rows. Within a row the columns ascend and occur once.
struct sparse_rows {
    int rows = 0;
    int columns = 0;
    std::vector<std::int64_t> start{0}; // rows + 1 offsets
    std::vector<int> column;
    std::vector<double> value;
};

// Lower triangle by columns, diagonal always present; rows ascend within a column.
struct symmetric_lower {
    int size = 0;
    std::vector<std::int64_t> start{0}; // size + 1 offsets
    std::vector<int> row;
    std::vector<double> value;
};

// Rows from entries in any order; entries of one cell are summed.
// Throws std::invalid_argument when an entry lies outside rows x columns.
sparse_rows rows_from_entries(int rows, int columns, const std::vector<sparse_entry>& entries);

// The same matrix with rows and columns exchanged.
sparse_rows transpose(const sparse_rows& matrix);

// matrix' * matrix. Cells of value 0 that are stored in `matrix` stay in the pattern, so a row
// of zeros is a way to reserve pairs for later.
symmetric_lower cross_product(const sparse_rows& matrix);

// out = matrix * x (out gets `rows` values).
void multiply(const sparse_rows& matrix, const std::vector<double>& x, std::vector<double>& out);

} // namespace tarewell::audit
