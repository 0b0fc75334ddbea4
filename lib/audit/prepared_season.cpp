#include "audit/prepared_season.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <set>

namespace tarewell::audit {

namespace {

std::size_t at(int index) { return static_cast<std::size_t>(index); }

void choose_rows(const pooled_season& season, const std::vector<char>& left_out, prepared_season& prepared) {
    std::vector<double> squares(season.bales.size(), 0.0);
    std::vector<char> usable(season.bales.size(), 1);
    for (std::size_t b = 0; b < season.bundles.size(); ++b) {
        const auto& bundle = season.bundles[b];
        const bool bad = !(bundle.estimate >= 0.0) || !std::isfinite(bundle.estimate);
        if (bad) {
            prepared.findings.push_back({finding_kind::estimate_below_zero, static_cast<int>(b),
                                         "This bundle's estimate is below zero or not a number; "
                                         "its bale is left out."});
        } else if (bundle.estimate == 0.0) {
            prepared.findings.push_back({finding_kind::estimate_zero, static_cast<int>(b),
                                         "This bundle's estimate is zero, so the model expects "
                                         "no weight of it."});
        }
        if (bundle.bale >= 0) {
            squares[at(bundle.bale)] += bad ? 0.0 : bundle.estimate * bundle.estimate;
            usable[at(bundle.bale)] = bad ? 0 : usable[at(bundle.bale)];
        }
    }
    prepared.row_of_bale.assign(season.bales.size(), -1);
    for (std::size_t k = 0; k < season.bales.size(); ++k) {
        const int bale = static_cast<int>(k);
        const double net = season.bales[k].net;
        if (!std::isfinite(net)) {
            prepared.findings.push_back({finding_kind::net_not_finite, bale,
                                         "This bale's net weight is not a number; it is left "
                                         "out."});
        } else if (net < 0.0) {
            prepared.findings.push_back({finding_kind::net_below_zero, bale,
                                         "This bale's net weight is below zero; it is left out "
                                         "and its bundles count as not weighed."});
        } else if (squares[k] == 0.0 && usable[k] != 0) {
            prepared.findings.push_back({finding_kind::bale_without_estimate, bale,
                                         "This bale has no estimates to compare its weight "
                                         "with."});
        } else if (usable[k] != 0 && (left_out.empty() || left_out[k] == 0)) {
            prepared.row_of_bale[k] = static_cast<int>(prepared.bale_of_row.size());
            prepared.bale_of_row.push_back(bale);
            prepared.square_sum.push_back(squares[k]);
        }
    }
}

// Modified Gram-Schmidt: is `column` (nearly) a combination of the accepted, orthonormal ones?
bool independent(std::vector<double> column, std::vector<std::vector<double>>& accepted) {
    const auto norm = [](const std::vector<double>& v) {
        return std::sqrt(std::inner_product(v.begin(), v.end(), v.begin(), 0.0));
    };
    const double before = norm(column);
    for (int pass = 0; pass < 2; ++pass) {
        for (const auto& other : accepted) {
            const double along = std::inner_product(column.begin(), column.end(), other.begin(), 0.0);
            for (std::size_t i = 0; i < column.size(); ++i) {
                column[i] -= along * other[i];
            }
        }
    }
    const double after = norm(column);
    if (!(after > 1e-7 * before)) {
        return false;
    }
    for (auto& value : column) {
        value /= after;
    }
    accepted.push_back(std::move(column));
    return true;
}

// A fixed effect for each basis in use, the commonest (by weighed estimate) first; a basis that
// cannot be told from those before it shares the commonest one's mean.
void choose_bases(const pooled_season& season, prepared_season& prepared) {
    const auto rows = prepared.bale_of_row.size();
    std::vector<std::vector<double>> columns(at(season.bases));
    std::vector<double> claim(at(season.bases), 0.0);
    for (const auto& bundle : season.bundles) {
        const int row = bundle.bale < 0 ? -1 : prepared.row_of_bale[at(bundle.bale)];
        if (row >= 0 && bundle.estimate > 0.0) {
            auto& column = columns[at(bundle.basis)];
            column.resize(rows, 0.0);
            column[at(row)] += bundle.estimate / std::sqrt(prepared.square_sum[at(row)]);
            claim[at(bundle.basis)] += bundle.estimate;
        }
    }
    std::vector<int> order(at(season.bases));
    std::iota(order.begin(), order.end(), 0);
    std::stable_sort(order.begin(), order.end(), [&](int a, int b) { return claim[at(a)] > claim[at(b)]; });
    prepared.basis_column.assign(at(season.bases), 0);
    prepared.basis_weighed.assign(at(season.bases), 0);
    std::vector<std::vector<double>> accepted;
    for (const int basis : order) {
        if (columns[at(basis)].empty()) {
            prepared.findings.push_back({finding_kind::basis_never_weighed, basis,
                                         "No bundle estimated on this basis has been weighed; it "
                                         "is taken to be like the commonest basis."});
        } else if (independent(columns[at(basis)], accepted)) {
            prepared.basis_column[at(basis)] = prepared.fixed++;
            prepared.basis_weighed[at(basis)] = 1;
        } else {
            prepared.findings.push_back({finding_kind::bases_alike, basis,
                                         "This basis is always pooled with others in the same "
                                         "proportion; it is taken to be like the commonest."});
        }
    }
}

void choose_blocks(const pooled_season& season, prepared_season& prepared) {
    std::set<int> growers;
    std::set<int> sites;
    for (const auto& bundle : season.bundles) {
        if (bundle.bale >= 0 && bundle.estimate > 0.0 && prepared.row_of_bale[at(bundle.bale)] >= 0) {
            growers.insert(bundle.grower);
            sites.insert(bundle.site);
        }
    }
    prepared.grower_block = growers.size() > 1;
    prepared.site_block = sites.size() > 1;
    if (growers.size() == 1) {
        prepared.findings.push_back({finding_kind::one_grower, -1,
                                     "Only one grower's bundles have been weighed, so growers "
                                     "cannot be compared."});
    }
    if (sites.size() == 1) {
        prepared.findings.push_back({finding_kind::one_site, -1,
                                     "Only one site's bundles have been weighed, so sites cannot "
                                     "be compared."});
    }
}

} // namespace

prepared_season prepare(const pooled_season& season, const std::vector<char>& left_out) {
    check_indices(season);
    prepared_season prepared;
    choose_rows(season, left_out, prepared);
    choose_bases(season, prepared);
    choose_blocks(season, prepared);
    return prepared;
}

std::vector<double> row_variance(const pooled_season& season, const prepared_season& prepared, double s2) {
    auto variance = prepared.square_sum;
    for (std::size_t row = 0; row < variance.size() && s2 > 0.0; ++row) {
        const double division = season.bales[at(prepared.bale_of_row[row])].division;
        variance[row] += division * division / (12.0 * s2);
    }
    return variance;
}

mixed_design whitened_design(const pooled_season& season, const prepared_season& prepared, double s2) {
    const auto rows = prepared.bale_of_row.size();
    auto root = row_variance(season, prepared, s2);
    std::transform(root.begin(), root.end(), root.begin(), [](double q) { return std::sqrt(q); });
    mixed_design design;
    design.fixed = prepared.fixed;
    design.x.assign(rows * at(prepared.fixed), 0.0);
    for (std::size_t row = 0; row < rows; ++row) {
        design.y.push_back(season.bales[at(prepared.bale_of_row[row])].net / root[row]);
    }
    std::vector<sparse_entry> entries;
    for (const auto& bundle : season.bundles) {
        const int row = bundle.bale < 0 ? -1 : prepared.row_of_bale[at(bundle.bale)];
        if (row < 0 || bundle.estimate == 0.0) {
            continue;
        }
        const double value = bundle.estimate / root[at(row)];
        design.x[at(prepared.basis_column[at(bundle.basis)]) * rows + at(row)] += value;
        if (prepared.grower_block) {
            entries.push_back({row, prepared.grower_effect(bundle.grower), value});
        }
        if (prepared.site_block) {
            entries.push_back({row, prepared.site_effect(season, bundle.site), value});
        }
    }
    design.z = rows_from_entries(static_cast<int>(rows), prepared.effects(season), entries);
    if (prepared.grower_block) {
        design.block_of.assign(at(season.growers), design.blocks++);
    }
    if (prepared.site_block) {
        design.block_of.insert(design.block_of.end(), at(season.sites), design.blocks++);
    }
    return design;
}

} // namespace tarewell::audit
