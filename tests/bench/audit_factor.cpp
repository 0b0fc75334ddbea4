// The audit's own sparse arithmetic against Eigen's: one factorisation and the inverse at every pair of the matrix
// against SimplicialLLT with a selected inverse by Takahashi's equations, Z'Z and Z times ten vectors against
// SparseMatrix. Seconds of processor time.
//   audit_factor [growers = 100000] [bales = 200000] [sites = 1000] [visitors % = 0]

#include <cstdio>
#include <cstdlib>
#include <ctime>

#include <Eigen/SparseCholesky>

#include "audit/prepared_season.hpp"
#include "audit/supernodal_factor.hpp"
#include "audit/wide_multiply.hpp"
#include "bench/audit_simulation.hpp"

using namespace tarewell;

namespace {

using sparse = Eigen::SparseMatrix<double>;

double seconds_since(std::clock_t start) { return static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC; }

// The inverse of L L' on L's own pattern, from the last column to the first.
sparse selected_inverse(const sparse& factor) {
    sparse inverse = factor;
    Eigen::VectorXd ratio = Eigen::VectorXd::Zero(factor.cols()); // l_ij / l_jj of the column at hand, 0 elsewhere
    Eigen::VectorXd sum = Eigen::VectorXd::Zero(factor.cols());
    for (Eigen::Index j = factor.cols() - 1; j >= 0; --j) {
        const double root = sparse::InnerIterator(factor, j).value();
        for (sparse::InnerIterator below(factor, j); below; ++below) {
            ratio(below.row()) = below.row() == j ? 0.0 : below.value() / root;
            sum(below.row()) = 0.0;
        }
        for (sparse::InnerIterator k(factor, j); k; ++k) {
            if (k.row() == j) {
                continue;
            }
            for (sparse::InnerIterator known(inverse, k.row()); known; ++known) {
                sum(known.row()) += known.value() * ratio(k.row());
                sum(k.row()) += known.row() == k.row() ? 0.0 : known.value() * ratio(known.row());
            }
        }
        double own = 1.0 / (root * root);
        for (sparse::InnerIterator below(factor, j); below; ++below) {
            own += ratio(below.row()) * sum(below.row());
        }
        for (sparse::InnerIterator cell(inverse, j); cell; ++cell) {
            cell.valueRef() = cell.row() == j ? own : -sum(cell.row());
            ratio(cell.row()) = 0.0;
        }
    }
    return inverse;
}

void compare_products(const audit::sparse_rows& z) {
    using by_rows = Eigen::SparseMatrix<double, Eigen::RowMajor>;
    std::vector<Eigen::Triplet<double>> entries;
    for (int r = 0; r < z.rows; ++r) {
        for (auto k = z.start[static_cast<std::size_t>(r)]; k < z.start[static_cast<std::size_t>(r) + 1]; ++k) {
            entries.emplace_back(r, z.column[static_cast<std::size_t>(k)], z.value[static_cast<std::size_t>(k)]);
        }
    }
    by_rows matrix(z.rows, z.columns);
    matrix.setFromTriplets(entries.begin(), entries.end());
    const audit::row_matrix x = audit::row_matrix::Random(z.columns, 10);
    audit::row_matrix ours;
    audit::row_matrix theirs;
    constexpr int times = 20;
    auto start = std::clock();
    for (int k = 0; k < times; ++k) {
        audit::multiply_all(z, x, ours);
    }
    const double own = seconds_since(start);
    start = std::clock();
    for (int k = 0; k < times; ++k) {
        theirs.noalias() = matrix * x;
    }
    const double library = seconds_since(start);
    start = std::clock();
    const auto own_gram = audit::cross_product(z);
    const double own_square = seconds_since(start);
    start = std::clock();
    const sparse gram = sparse(matrix.transpose() * matrix).triangularView<Eigen::Lower>();
    const double library_square = seconds_since(start);
    std::printf(
        "Z times ten vectors: own %.4f s, library %.4f s (%.1f times), off by %.1g; Z'Z: own %.3f s, library %.3f s "
        "(%.1f times), %zu and %ld cells\n",
        own / times, library / times, library / own, (ours - theirs).cwiseAbs().maxCoeff(), own_square, library_square,
        library_square / own_square, own_gram.row.size(), static_cast<long>(gram.nonZeros()));
}

} // namespace

int main(int argc, char** argv) {
    const auto argument = [&](int k, double otherwise) { return argc > k ? std::atof(argv[k]) : otherwise; };
    const auto season =
        bench::large_season(static_cast<int>(argument(1, 100'000)), static_cast<int>(argument(2, 200'000)),
                            static_cast<int>(argument(3, 1'000)), argument(4, 0.0), 11);
    const auto design = audit::whitened_design(season, audit::prepare(season, {}), 0.0);
    compare_products(design.z);
    const auto gram = audit::cross_product(design.z);
    const std::vector<double> scale(static_cast<std::size_t>(gram.size), 0.7);

    const auto order = audit::supernodal_order::analyse(gram, {1e13, 1e9});
    std::vector<audit::supernodal_order::cell> cells;
    std::vector<Eigen::Triplet<double>> entries;
    for (int j = 0; j < gram.size; ++j) {
        for (auto k = gram.start[static_cast<std::size_t>(j)]; k < gram.start[static_cast<std::size_t>(j) + 1]; ++k) {
            const int i = gram.row[static_cast<std::size_t>(k)];
            cells.push_back(order->locate(i, j));
            entries.emplace_back(i, j, 0.49 * gram.value[static_cast<std::size_t>(k)] + (i == j ? 1.0 : 0.0));
        }
    }
    std::sort(cells.begin(), cells.end(), [](const auto& a, const auto& b) { return a.supernode < b.supernode; });
    auto start = std::clock();
    audit::supernodal_factor own(*order);
    own.factorise(scale);
    const double own_factor = seconds_since(start);
    start = std::clock();
    const auto values = own.inverse_at(cells);
    const double own_inverse = seconds_since(start);

    sparse matrix(gram.size, gram.size);
    matrix.setFromTriplets(entries.begin(), entries.end());
    Eigen::SimplicialLLT<sparse> library;
    library.analyzePattern(matrix);
    start = std::clock();
    library.factorize(matrix);
    const double library_factor = seconds_since(start);
    const sparse lower = library.matrixL();
    start = std::clock();
    const auto inverse = selected_inverse(lower);
    const double library_inverse = seconds_since(start);

    double own_trace = 0.0;
    for (std::size_t k = 0; k < cells.size(); ++k) {
        const bool diagonal = cells[k].row == cells[k].column;
        own_trace += diagonal ? values[k] : 0.0;
    }
    std::printf(
        "%d effects, %.3g multiplications, traces of the inverse %.8f and %.8f, log determinants %.8f and %.8f\n",
        gram.size, order->multiplications(), own_trace, Eigen::VectorXd(inverse.diagonal()).sum(),
        own.log_determinant(), 2.0 * Eigen::VectorXd(lower.diagonal()).array().log().sum());
    std::printf("factor: own %.3f s, library %.3f s (%.1f times); inverse: own %.3f s, library %.3f s (%.1f times)\n",
                own_factor, library_factor, library_factor / own_factor, own_inverse, library_inverse,
                library_inverse / own_inverse);
    return 0;
}
