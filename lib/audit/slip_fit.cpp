#include "audit/slip_fit.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numeric>

#include "audit/minimise.hpp"

namespace tarewell::audit {

namespace {

using matrix = Eigen::MatrixXd;
using vector = Eigen::VectorXd;

constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr double determined = 1e-8; // P_kk below this: no other row tells of row k

std::size_t at(std::int64_t index) { return static_cast<std::size_t>(index); }

std::vector<double> cell_widths(const std::vector<double>& nodes) {
    std::vector<double> width;
    double low = nodes.front();
    for (std::size_t k = 0; k < nodes.size(); ++k) {
        const double high = k + 1 < nodes.size() ? 0.5 * (nodes[k] + nodes[k + 1]) : nodes[k] + (nodes[k] - low);
        width.push_back(high - low);
        low = high;
    }
    return width;
}

ratio_grid make_grid() {
    const std::vector<double> grower{0.0, .15, .3, .45, .6, .8, 1.0, 1.3, 1.7, 2.3};
    const std::vector<double> site{0.0, .15, .3, .5, .8, 1.3};
    const auto grower_width = cell_widths(grower);
    const auto site_width = cell_widths(site);
    ratio_grid grid;
    for (std::size_t i = 0; i < grower.size(); ++i) {
        for (std::size_t j = 0; j < site.size(); ++j) {
            grid.grower.push_back(grower[i]);
            grid.site.push_back(site[j]);
            grid.log_prior.push_back(-0.5 * (grower[i] * grower[i] + site[j] * site[j]) +
                                     std::log(grower_width[i] * site_width[j]));
        }
    }
    return grid;
}

double log_determinant(const Eigen::LLT<matrix>& factor) {
    return 2.0 * factor.matrixLLT().diagonal().array().log().sum();
}

} // namespace

const ratio_grid& slip_grid() {
    static const ratio_grid grid = make_grid();
    return grid;
}

double log_sum_exp(const std::vector<double>& values) {
    const double top = *std::max_element(values.begin(), values.end());
    if (!std::isfinite(top)) {
        return top;
    }
    return top + std::log(std::accumulate(values.begin(), values.end(), 0.0,
                                          [&](double sum, double value) { return sum + std::exp(value - top); }));
}

std::vector<bale_block> connected_bales(const pooled_season& season) {
    const auto growers = at(season.growers);
    std::vector<int> parent(growers + at(season.sites));
    std::iota(parent.begin(), parent.end(), 0);
    const auto head = [&](int k) {
        while (parent[at(k)] != k) {
            k = parent[at(k)] = parent[at(parent[at(k)])];
        }
        return k;
    };
    std::vector<int> grower_of_bale(season.bales.size(), -1);
    for (const auto& bundle : season.bundles) {
        if (bundle.bale >= 0) {
            auto& first = grower_of_bale[at(bundle.bale)];
            first = first < 0 ? bundle.grower : first;
            parent[at(head(bundle.grower))] = head(first);
            parent[at(head(season.growers + bundle.site))] = head(first);
        }
    }
    std::map<int, bale_block> by_head;
    for (std::size_t k = 0; k < season.bales.size(); ++k) {
        if (grower_of_bale[k] >= 0) {
            by_head[head(grower_of_bale[k])].bales.push_back(static_cast<int>(k));
        }
    }
    for (std::size_t b = 0; b < season.bundles.size(); ++b) {
        if (season.bundles[b].bale >= 0) {
            by_head[head(season.bundles[b].grower)].bundles.push_back(static_cast<int>(b));
        }
    }
    std::vector<bale_block> blocks;
    for (auto& [key, block] : by_head) {
        blocks.push_back(std::move(block));
    }
    return blocks;
}

slip_fit::slip_fit(const pooled_season& season, const std::vector<char>& left_out,
                   const std::vector<bale_block>& blocks, int threads)
    : bale_blocks_(&blocks), threads_(threads), prepared_(prepare(season, left_out)) {
    lay_out_rows(season);
    if (freedom() < 2) {
        return;
    }
    fill_blocks(season);
    const auto& grid = slip_grid();
    points_.resize(grid.log_prior.size());
    for_each_index(static_cast<int>(points_.size()), threads_, [&](int j) { points_[at(j)] = solve(at(j)); });
    const double nu = freedom();
    usable_ = true;
    for (std::size_t j = 0; j < points_.size(); ++j) {
        usable_ = usable_ && points_[j].residual > 1e-18 * y_.squaredNorm();
        log_weight_.push_back(grid.log_prior[j] - 0.5 * points_[j].log_determinant -
                              0.5 * nu * std::log(points_[j].residual));
    }
    double log_q = 0.0;
    for (const double q : q_) {
        log_q += std::log(q);
    }
    log_evidence_ = log_sum_exp(log_weight_) + std::lgamma(0.5 * nu) - 0.5 * nu * std::log(M_PI) - 0.5 * log_q;
}

void slip_fit::lay_out_rows(const pooled_season& season) {
    row_of_bale_.assign(season.bales.size(), -1);
    for (const auto& from : *bale_blocks_) {
        row_block to;
        to.first = static_cast<Eigen::Index>(bale_of_row_.size());
        for (const int bale : from.bales) {
            const int row = prepared_.row_of_bale[at(bale)];
            if (row >= 0) {
                row_of_bale_[at(bale)] = static_cast<int>(bale_of_row_.size());
                bale_of_row_.push_back(bale);
                q_.push_back(prepared_.square_sum[at(row)]);
            }
        }
        to.rows = static_cast<Eigen::Index>(bale_of_row_.size()) - to.first;
        blocks_.push_back(std::move(to));
    }
    y_.resize(static_cast<Eigen::Index>(q_.size()));
    for (std::size_t row = 0; row < q_.size(); ++row) {
        y_(static_cast<Eigen::Index>(row)) = season.bales[at(bale_of_row_[row])].net / std::sqrt(q_[row]);
    }
}

void slip_fit::fill_blocks(const pooled_season& season) {
    x_ = matrix::Zero(y_.size(), prepared_.fixed);
    std::vector<int> grower(season.bundles.size());
    std::vector<int> site(season.bundles.size());
    std::vector<double> claim(season.bundles.size());
    for (std::size_t b = 0; b < season.bundles.size(); ++b) {
        const auto& bundle = season.bundles[b];
        const int row = bundle.bale < 0 ? -1 : row_of_bale_[at(bundle.bale)];
        grower[b] = bundle.grower;
        site[b] = bundle.site;
        claim[b] = bundle.estimate;
        if (row >= 0) {
            x_(row, prepared_.basis_column[at(bundle.basis)]) += bundle.estimate / std::sqrt(q_[at(row)]);
        }
    }
    std::vector<int> unused;
    const auto by_grower = columns(season, claim, grower, unused);
    const auto by_site = columns(season, claim, site, unused);
    for (std::size_t k = 0; k < blocks_.size(); ++k) {
        blocks_[k].growers = by_grower[k] * by_grower[k].transpose();
        blocks_[k].sites = by_site[k] * by_site[k].transpose();
    }
}

Eigen::LLT<matrix> slip_fit::factor(const row_block& of, std::size_t point) const {
    const double u = slip_grid().grower[point];
    const double v = slip_grid().site[point];
    matrix covariance = u * u * of.growers + v * v * of.sites;
    covariance.diagonal().array() += 1.0;
    return Eigen::LLT<matrix>(covariance);
}

slip_fit::solution slip_fit::solve(std::size_t j) const {
    solution result;
    result.vx.resize(x_.rows(), x_.cols());
    vector vy(y_.size());
    for (const auto& of : blocks_) {
        if (of.rows == 0) {
            continue;
        }
        const auto factored = factor(of, j);
        result.vx.middleRows(of.first, of.rows) = factored.solve(x_.middleRows(of.first, of.rows));
        vy.segment(of.first, of.rows) = factored.solve(y_.segment(of.first, of.rows));
        result.log_determinant += log_determinant(factored);
    }
    const Eigen::LLT<matrix> inner(x_.transpose() * result.vx);
    result.log_determinant += log_determinant(inner);
    result.fixed_inverse = inner.solve(matrix::Identity(x_.cols(), x_.cols()));
    result.beta = inner.solve(result.vx.transpose() * y_);
    result.py = vy - result.vx * result.beta;
    result.residual = result.py.dot(y_);
    return result;
}

std::vector<double> slip_fit::weights() const {
    const double all = log_sum_exp(log_weight_);
    std::vector<double> weight(log_weight_.size());
    std::transform(log_weight_.begin(), log_weight_.end(), weight.begin(),
                   [&](double value) { return std::exp(value - all); });
    return weight;
}

double slip_fit::mean_of_class(int basis) const {
    const auto weight = weights();
    double mean = 0.0;
    for (std::size_t j = 0; j < points_.size(); ++j) {
        mean += weight[j] * points_[j].beta(prepared_.basis_column[at(basis)]);
    }
    return mean;
}

std::vector<matrix> slip_fit::columns(const pooled_season& season, const std::vector<double>& value,
                                      const std::vector<int>& column_of, std::vector<int>& which) const {
    std::vector<matrix> result;
    which.clear();
    for (std::size_t k = 0; k < blocks_.size(); ++k) {
        std::map<int, Eigen::Index> place;
        const auto in_fit = [&](int b) { return row_of_bale_[at(season.bundles[at(b)].bale)]; };
        for (const int b : (*bale_blocks_)[k].bundles) {
            if (in_fit(b) >= 0 && column_of[at(b)] >= 0) {
                place.try_emplace(column_of[at(b)], 0);
            }
        }
        Eigen::Index next = 0;
        for (auto& [column, at_place] : place) {
            at_place = next++;
            which.push_back(column);
        }
        matrix block = matrix::Zero(blocks_[k].rows, next);
        for (const int b : (*bale_blocks_)[k].bundles) {
            const int row = in_fit(b);
            if (row >= 0 && column_of[at(b)] >= 0) {
                block(row - blocks_[k].first, place[column_of[at(b)]]) += value[at(b)] / std::sqrt(q_[at(row)]);
            }
        }
        result.push_back(std::move(block));
    }
    return result;
}

column_values slip_fit::value(const std::vector<matrix>& columns, const std::vector<std::size_t>& at_points) const {
    Eigen::Index count = 0;
    for (const auto& block : columns) {
        count += block.cols();
    }
    column_values values;
    const auto points = static_cast<Eigen::Index>(at_points.size());
    values.score.resize(points, count);
    values.form.resize(points, count);
    values.slope.resize(at_points.size());
    for_each_index(static_cast<int>(points), threads_, [&](int k) {
        const auto& state = points_[at_points[at(k)]];
        auto& slope = values.slope[at(k)];
        slope.resize(count, x_.cols());
        Eigen::Index first = 0;
        for (std::size_t b = 0; b < blocks_.size(); ++b) {
            const auto& of = blocks_[b];
            const auto& c = columns[b];
            if (c.cols() == 0) {
                continue;
            }
            const matrix half = factor(of, at_points[at(k)]).matrixL().solve(c);
            slope.middleRows(first, c.cols()) = c.transpose() * state.vx.middleRows(of.first, of.rows);
            values.score.row(k).segment(first, c.cols()) =
                (c.transpose() * state.py.segment(of.first, of.rows)).transpose();
            values.form.row(k).segment(first, c.cols()) = half.colwise().squaredNorm();
            first += c.cols();
        }
        values.form.row(k) -= (slope * state.fixed_inverse).cwiseProduct(slope).rowwise().sum().transpose();
    });
    return values;
}

matrix slip_fit::row_forms() const {
    std::vector<matrix> each;
    for (const auto& of : blocks_) {
        each.push_back(matrix::Identity(of.rows, of.rows));
    }
    std::vector<std::size_t> all(points_.size());
    std::iota(all.begin(), all.end(), std::size_t{0});
    matrix forms = value(each, all).form;
    for (Eigen::Index row = 0; row < forms.cols(); ++row) {
        if (!(forms.col(row).minCoeff() > determined)) {
            forms.col(row).setZero();
        }
    }
    return forms;
}

std::vector<double> slip_fit::without_each_row() const {
    const matrix own = row_forms();
    const double nu = freedom() - 1;
    const double constant = log_evidence_ - log_sum_exp(log_weight_) + std::lgamma(0.5 * nu) -
                            std::lgamma(0.5 * freedom()) + 0.5 * std::log(M_PI);
    std::vector<double> result;
    std::vector<double> log_weight(points_.size());
    for (Eigen::Index row = 0; row < y_.size(); ++row) {
        if (own(0, row) == 0.0) {
            result.push_back(-infinity);
            continue;
        }
        for (std::size_t j = 0; j < points_.size(); ++j) {
            const auto point = static_cast<Eigen::Index>(j);
            const double p = own(point, row);
            const double residual = points_[j].residual - points_[j].py(row) * points_[j].py(row) / p;
            log_weight[j] = slip_grid().log_prior[j] - 0.5 * (points_[j].log_determinant + std::log(p)) -
                            0.5 * nu * std::log(std::max(residual, 1e-300));
        }
        result.push_back(log_sum_exp(log_weight) + constant + 0.5 * std::log(q_[at(row)]));
    }
    return result;
}

slip_fit::prediction slip_fit::predict(const pooled_season& season, const std::vector<pooled_bundle>& bale,
                                       std::size_t j) const {
    const double u2 = slip_grid().grower[j] * slip_grid().grower[j];
    const double v2 = slip_grid().site[j] * slip_grid().site[j];
    std::map<int, double> grower;
    std::map<int, double> site;
    vector x = vector::Zero(x_.cols());
    double variance = 0.0;
    for (const auto& bundle : bale) {
        grower[bundle.grower] += bundle.estimate;
        site[bundle.site] += bundle.estimate;
        x(prepared_.basis_column[at(bundle.basis)]) += bundle.estimate;
        variance += bundle.estimate * bundle.estimate;
    }
    for (const auto& [which, claim] : grower) {
        variance += u2 * claim * claim;
    }
    for (const auto& [which, claim] : site) {
        variance += v2 * claim * claim;
    }
    vector c = vector::Zero(y_.size());
    const auto share = [](const std::map<int, double>& claims, int which) {
        const auto found = claims.find(which);
        return found == claims.end() ? 0.0 : found->second;
    };
    for (const auto& bundle : season.bundles) {
        const int row = bundle.bale < 0 ? -1 : row_of_bale_[at(bundle.bale)];
        if (row >= 0) {
            c(row) += bundle.estimate / std::sqrt(q_[at(row)]) *
                      (u2 * share(grower, bundle.grower) + v2 * share(site, bundle.site));
        }
    }
    for (const auto& of : blocks_) {
        const auto own = c.segment(of.first, of.rows);
        if (of.rows > 0 && (own.array() != 0.0).any()) {
            variance -= factor(of, j).matrixL().solve(own).squaredNorm();
        }
    }
    const auto& state = points_[j];
    const vector d = x - state.vx.transpose() * c;
    variance += d.dot(state.fixed_inverse * d);
    return {x.dot(state.beta) + c.dot(state.py), state.residual / freedom() * variance};
}

} // namespace tarewell::audit
