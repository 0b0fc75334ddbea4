#include "audit/hub_preconditioner.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <stdexcept>

namespace tarewell::audit {

namespace {

constexpr std::size_t most_hubs = 1500;
constexpr double hub_times_mean = 4.0; // rows touched, over the mean of all effects

std::size_t at(std::int64_t offset) { return static_cast<std::size_t>(offset); }

} // namespace

hub_pattern find_hubs(const sparse_rows& z_by_column, const symmetric_lower& gram) {
    hub_pattern pattern;
    const auto touched = [&](int effect) { return z_by_column.start[at(effect) + 1] - z_by_column.start[at(effect)]; };
    const double mean =
        static_cast<double>(z_by_column.column.size()) / static_cast<double>(std::max(z_by_column.rows, 1));
    for (int effect = 0; effect < z_by_column.rows; ++effect) {
        if (static_cast<double>(touched(effect)) > hub_times_mean * mean) {
            pattern.hub.push_back(effect);
        }
    }
    std::stable_sort(pattern.hub.begin(), pattern.hub.end(), [&](int a, int b) { return touched(a) > touched(b); });
    pattern.hub.resize(std::min(pattern.hub.size(), most_hubs));
    std::sort(pattern.hub.begin(), pattern.hub.end());
    pattern.hub_place.assign(at(z_by_column.rows), -1);
    for (std::size_t h = 0; h < pattern.hub.size(); ++h) {
        pattern.hub_place[at(pattern.hub[h])] = static_cast<int>(h);
    }
    const auto hubs = static_cast<Eigen::Index>(pattern.hub.size());
    pattern.among = Eigen::MatrixXd::Zero(hubs, hubs);
    std::vector<sparse_entry> meetings;
    for (int j = 0; j < gram.size; ++j) {
        for (auto k = gram.start[at(j)]; k < gram.start[at(j) + 1]; ++k) {
            const int i = gram.row[at(k)];
            const int a = pattern.hub_place[at(i)];
            const int b = pattern.hub_place[at(j)];
            if (a >= 0 && b >= 0) {
                pattern.among(a, b) = pattern.among(b, a) = gram.value[at(k)];
            } else if (a >= 0 || b >= 0) {
                meetings.push_back({a >= 0 ? j : i, std::max(a, b), gram.value[at(k)]});
            }
        }
    }
    pattern.meetings = rows_from_entries(gram.size, static_cast<int>(hubs), meetings);
    return pattern;
}

hub_preconditioner::hub_preconditioner(const hub_pattern& pattern, const symmetric_lower& gram,
                                       const Eigen::VectorXd& scale)
    : pattern_(&pattern), scale_(&scale), diagonal_(scale.size()) {
    Eigen::VectorXd hub_scale(static_cast<Eigen::Index>(pattern.hub.size()));
    for (std::size_t h = 0; h < pattern.hub.size(); ++h) {
        hub_scale(static_cast<Eigen::Index>(h)) = scale(pattern.hub[h]);
    }
    Eigen::MatrixXd schur = Eigen::MatrixXd::Identity(hub_scale.size(), hub_scale.size());
    schur += hub_scale.asDiagonal() * pattern.among * hub_scale.asDiagonal();
    lumped_ = Eigen::VectorXd::Ones(scale.size());
    for (int j = 0; j < gram.size; ++j) {
        for (auto k = gram.start[at(j)]; k < gram.start[at(j) + 1]; ++k) {
            const int i = gram.row[at(k)];
            const double value = std::abs(scale(i) * scale(j) * gram.value[at(k)]);
            if (i == j) {
                diagonal_(j) = 1.0 + value;
                lumped_(j) += value;
            } else if (pattern.hub_place[at(i)] < 0 && pattern.hub_place[at(j)] < 0) {
                lumped_(i) += value;
                lumped_(j) += value;
            }
        }
    }
    const auto& meet = pattern.meetings;
    for (int j = 0; j < gram.size; ++j) {
        if (pattern.hub_place[at(j)] >= 0) {
            continue;
        }
        log_determinant_ += std::log(lumped_(j));
        const double factor = scale(j) * scale(j) / lumped_(j);
        for (auto k = meet.start[at(j)]; k < meet.start[at(j) + 1]; ++k) {
            const double left = meet.value[at(k)] * hub_scale(meet.column[at(k)]) * factor;
            for (auto m = meet.start[at(j)]; m < meet.start[at(j) + 1]; ++m) {
                schur(meet.column[at(k)], meet.column[at(m)]) -=
                    left * meet.value[at(m)] * hub_scale(meet.column[at(m)]);
            }
        }
    }
    schur_.compute(schur);
    if (schur_.info() != Eigen::Success) {
        throw std::runtime_error("the mixed model's matrix is not positive definite");
    }
    log_determinant_ += 2.0 * schur_.matrixLLT().diagonal().array().log().sum();
}

void hub_preconditioner::half(row_matrix& x) const {
    const auto& meet = pattern_->meetings;
    row_matrix own(static_cast<Eigen::Index>(pattern_->hub.size()), x.cols());
    for (Eigen::Index h = 0; h < own.rows(); ++h) {
        own.row(h) = x.row(pattern_->hub[at(h)]);
    }
    for (int j = 0; j < meet.rows; ++j) {
        if (pattern_->hub_place[at(j)] >= 0) {
            continue;
        }
        for (auto k = meet.start[at(j)]; k < meet.start[at(j) + 1]; ++k) {
            const int hub = meet.column[at(k)];
            const double value = meet.value[at(k)] * (*scale_)(j) * (*scale_)(pattern_->hub[at(hub)]);
            own.row(hub) -= value / lumped_(j) * x.row(j);
        }
        x.row(j) /= std::sqrt(lumped_(j));
    }
    schur_.matrixL().solveInPlace(own);
    for (Eigen::Index h = 0; h < own.rows(); ++h) {
        x.row(pattern_->hub[at(h)]) = own.row(h);
    }
}

void hub_preconditioner::half_transposed(row_matrix& x) const {
    const auto& meet = pattern_->meetings;
    row_matrix own(static_cast<Eigen::Index>(pattern_->hub.size()), x.cols());
    for (Eigen::Index h = 0; h < own.rows(); ++h) {
        own.row(h) = x.row(pattern_->hub[at(h)]);
    }
    schur_.matrixU().solveInPlace(own);
    for (int j = 0; j < meet.rows; ++j) {
        if (pattern_->hub_place[at(j)] >= 0) {
            continue;
        }
        x.row(j) /= std::sqrt(lumped_(j));
        for (auto k = meet.start[at(j)]; k < meet.start[at(j) + 1]; ++k) {
            const int hub = meet.column[at(k)];
            const double value = meet.value[at(k)] * (*scale_)(j) * (*scale_)(pattern_->hub[at(hub)]);
            x.row(j) -= value / lumped_(j) * own.row(hub);
        }
    }
    for (Eigen::Index h = 0; h < own.rows(); ++h) {
        x.row(pattern_->hub[at(h)]) = own.row(h);
    }
}

} // namespace tarewell::audit
