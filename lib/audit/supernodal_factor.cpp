#include "audit/supernodal_factor.hpp"

#include <cmath>
#include <stdexcept>

#include <Eigen/Core>

#include "audit/factor_kernels.hpp"

namespace tarewell::audit {

namespace {

using matrix = Eigen::MatrixXd;
using matrix_view = Eigen::Map<matrix>;
using const_matrix_view = Eigen::Map<const matrix>;

std::size_t at(std::int64_t offset) { return static_cast<std::size_t>(offset); }

} // namespace

void supernodal_factor::factorise(const std::vector<double>& scale) {
    const auto& order = *order_;
    panel_.resize(at(order.panel_start_.back()));
    log_determinant_ = 0.0;
    std::vector<std::vector<int>> children(at(order.supernodes()));
    std::vector<matrix> update(at(order.supernodes()));
    std::vector<double> workspace;
    for (int s = 0; s < order.supernodes(); ++s) {
        const int* rows = order.row_.data() + order.row_start_[at(s)];
        const auto height = order.row_start_[at(s + 1)] - order.row_start_[at(s)];
        const auto width = order.first_[at(s + 1)] - order.first_[at(s)];
        workspace.assign(at(height * height), 0.0);
        matrix_view front(workspace.data(), height, height);
        for (auto k = order.entry_start_[at(s)]; k < order.entry_start_[at(s + 1)]; ++k) {
            const int row = order.entry_row_[at(k)];
            const int column = order.entry_column_[at(k)];
            front(row, column) = order.entry_value_[at(k)] * scale[at(order.variable_[at(rows[row])])] *
                                 scale[at(order.variable_[at(rows[column])])];
        }
        front.diagonal().head(width).array() += 1.0;
        for (const int child : children[at(s)]) {
            auto& part = update[at(child)];
            const int* into =
                order.row_in_parent_.data() + order.row_start_[at(child + 1)] - static_cast<std::int64_t>(part.rows());
            for (Eigen::Index c = 0; c < part.cols(); ++c) {
                for (Eigen::Index r = c; r < part.rows(); ++r) {
                    front(into[r], into[c]) += part(r, c);
                }
            }
            part = matrix();
        }
        const double determinant = best_kernels().eliminate(workspace.data(), height, width);
        if (std::isnan(determinant)) {
            throw std::runtime_error("the mixed model's matrix is not positive definite");
        }
        log_determinant_ += determinant;
        matrix_view(panel_.data() + order.panel_start_[at(s)], height, width) = front.leftCols(width);
        if (height > width) {
            update[at(s)] = front.bottomRightCorner(height - width, height - width);
            children[at(order.parent_[at(s)])].push_back(s);
        }
    }
}

void supernodal_factor::solve(std::vector<double>& b, int columns) const {
    const auto& order = *order_;
    const Eigen::Index size = order.size();
    matrix x(size, columns);
    for (Eigen::Index c = 0; c < columns; ++c) {
        for (Eigen::Index k = 0; k < size; ++k) {
            x(k, c) = b[at(c * size + order.variable_[at(k)])];
        }
    }
    const auto visit = [&](int s, auto&& work) {
        const int* rows = order.row_.data() + order.row_start_[at(s)];
        const auto height = order.row_start_[at(s + 1)] - order.row_start_[at(s)];
        const auto width = order.first_[at(s + 1)] - order.first_[at(s)];
        const const_matrix_view panel(panel_.data() + order.panel_start_[at(s)], height, width);
        work(panel, x.middleRows(order.first_[at(s)], width), rows + width, height - width);
    };
    for (int s = 0; s < order.supernodes(); ++s) {
        visit(s, [&](const auto& panel, auto own, const int* below, Eigen::Index count) {
            panel.topRows(own.rows()).template triangularView<Eigen::Lower>().solveInPlace(own);
            if (count > 0) {
                const matrix change = panel.bottomRows(count) * own;
                for (Eigen::Index r = 0; r < count; ++r) {
                    x.row(below[r]) -= change.row(r);
                }
            }
        });
    }
    for (int s = order.supernodes() - 1; s >= 0; --s) {
        visit(s, [&](const auto& panel, auto own, const int* below, Eigen::Index count) {
            if (count > 0) {
                matrix later(count, x.cols());
                for (Eigen::Index r = 0; r < count; ++r) {
                    later.row(r) = x.row(below[r]);
                }
                own.noalias() -= panel.bottomRows(count).transpose() * later;
            }
            panel.topRows(own.rows()).template triangularView<Eigen::Lower>().transpose().solveInPlace(own);
        });
    }
    for (Eigen::Index c = 0; c < columns; ++c) {
        for (Eigen::Index k = 0; k < size; ++k) {
            b[at(c * size + order.variable_[at(k)])] = x(k, c);
        }
    }
}

std::vector<double> supernodal_factor::inverse_at(const std::vector<supernodal_order::cell>& cells) const {
    const auto& order = *order_;
    std::vector<double> values(cells.size());
    std::vector<matrix> inverse(at(order.supernodes()));
    std::vector<int> waiting(at(order.supernodes()), 0);
    for (const int parent : order.parent_) {
        if (parent >= 0) {
            ++waiting[at(parent)];
        }
    }
    auto next = static_cast<std::int64_t>(cells.size()) - 1;
    for (int s = order.supernodes() - 1; s >= 0; --s) {
        const auto height = order.row_start_[at(s + 1)] - order.row_start_[at(s)];
        const auto width = order.first_[at(s + 1)] - order.first_[at(s)];
        const auto below = height - width;
        auto& front = inverse[at(s)];
        front.resize(height, height);
        if (below > 0) {
            const int parent = order.parent_[at(s)];
            const auto& above = inverse[at(parent)];
            const int* from = order.row_in_parent_.data() + order.row_start_[at(s)] + width;
            auto known = front.bottomRightCorner(below, below);
            for (Eigen::Index c = 0; c < below; ++c) {
                for (Eigen::Index r = 0; r < below; ++r) {
                    known(r, c) = above(from[r], from[c]);
                }
            }
            if (--waiting[at(parent)] == 0) {
                inverse[at(parent)] = matrix();
            }
        }
        best_kernels().invert(front.data(), panel_.data() + order.panel_start_[at(s)], height, width);
        for (; next >= 0 && cells[at(next)].supernode == s; --next) {
            values[at(next)] = front(cells[at(next)].row, cells[at(next)].column);
        }
        if (waiting[at(s)] == 0) {
            front = matrix();
        }
    }
    return values;
}

} // namespace tarewell::audit
