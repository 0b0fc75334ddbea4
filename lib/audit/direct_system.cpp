#include <algorithm>
#include <numeric>
#include <stdexcept>

#include "audit/ridge_system.hpp"

namespace tarewell::audit {

namespace {

std::size_t at(std::int64_t offset) { return static_cast<std::size_t>(offset); }

class direct_factor final : public ridge_factor {
  public:
    direct_factor(const supernodal_order& order, const std::vector<double>& scale) : factor_(order), scale_(scale) {
        factor_.factorise(scale_);
    }

    double log_determinant() const override { return factor_.log_determinant(); }
    double log_determinant_error() const override { return 0.0; }
    void solve(std::vector<double>& b, int columns) const override { factor_.solve(b, columns); }

    std::vector<double> form_variances(const ready_forms& ready) const override {
        const auto inverse = factor_.inverse_at(ready.cells);
        const auto& forms = ready.forms;
        std::vector<double> variance(at(forms.rows), 0.0);
        std::size_t pair = 0;
        for (int f = 0; f < forms.rows; ++f) {
            if (ready.by_solving[at(f)] != 0) {
                variance[at(f)] = by_solving(forms, f);
                continue;
            }
            for (auto k = forms.start[at(f)]; k < forms.start[at(f + 1)]; ++k) {
                const double a = forms.value[at(k)] * scale_[at(forms.column[at(k)])];
                for (auto m = k; m < forms.start[at(f + 1)]; ++m) {
                    const double b = forms.value[at(m)] * scale_[at(forms.column[at(m)])];
                    const double cell = inverse[at(ready.cell_of_pair[pair++])];
                    variance[at(f)] += (m == k ? 1.0 : 2.0) * a * b * cell;
                }
            }
        }
        return variance;
    }

  private:
    double by_solving(const sparse_rows& forms, int f) const {
        std::vector<double> a(scale_.size(), 0.0);
        for (auto k = forms.start[at(f)]; k < forms.start[at(f + 1)]; ++k) {
            const auto column = at(forms.column[at(k)]);
            a[column] = forms.value[at(k)] * scale_[column];
        }
        auto x = a;
        factor_.solve(x, 1);
        return std::inner_product(a.begin(), a.end(), x.begin(), 0.0);
    }

    supernodal_factor factor_;
    std::vector<double> scale_;
};

class direct_system final : public ridge_system {
  public:
    explicit direct_system(supernodal_order order) : order_(std::move(order)) {}

    bool approximate() const override { return false; }

    std::unique_ptr<ridge_factor> factor(const std::vector<double>& scale, wanted /*all is made*/) const override {
        return std::make_unique<direct_factor>(order_, scale);
    }

    ready_forms make_ready(sparse_rows forms) const override {
        ready_forms ready;
        ready.by_solving.assign(at(forms.rows), 0);
        std::vector<supernodal_order::cell> cells;
        for (int f = 0; f < forms.rows; ++f) {
            const auto before = cells.size();
            try {
                locate_pairs(forms, f, cells);
            } catch (const std::logic_error&) {
                cells.resize(before);
                ready.by_solving[at(f)] = 1;
            }
        }
        std::vector<std::int64_t> by_supernode(cells.size());
        std::iota(by_supernode.begin(), by_supernode.end(), 0);
        std::sort(by_supernode.begin(), by_supernode.end(),
                  [&](auto a, auto b) { return cells[at(a)].supernode < cells[at(b)].supernode; });
        ready.cells.reserve(cells.size());
        ready.cell_of_pair.resize(cells.size());
        for (const auto pair : by_supernode) {
            ready.cell_of_pair[at(pair)] = static_cast<std::int64_t>(ready.cells.size());
            ready.cells.push_back(cells[at(pair)]);
        }
        ready.forms = std::move(forms);
        return ready;
    }

  private:
    void locate_pairs(const sparse_rows& forms, int f, std::vector<supernodal_order::cell>& cells) const {
        for (auto k = forms.start[at(f)]; k < forms.start[at(f + 1)]; ++k) {
            for (auto m = k; m < forms.start[at(f + 1)]; ++m) {
                cells.push_back(order_.locate(forms.column[at(k)], forms.column[at(m)]));
            }
        }
    }

    supernodal_order order_;
};

// `z` with the rows of `reserved` below it, as zeros: only their pattern counts.
sparse_rows with_reserved(const sparse_rows& z, const sparse_rows& reserved) {
    auto both = z;
    both.rows += reserved.rows;
    both.column.insert(both.column.end(), reserved.column.begin(), reserved.column.end());
    both.value.resize(both.column.size(), 0.0);
    for (int r = 1; r <= reserved.rows; ++r) {
        both.start.push_back(z.start.back() + reserved.start[at(r)]);
    }
    return both;
}

} // namespace

std::unique_ptr<ridge_system> make_direct_system(const sparse_rows& z, const sparse_rows& reserved,
                                                 const factor_limits& limits) {
    auto order = supernodal_order::analyse(cross_product(with_reserved(z, reserved)), limits);
    if (!order) {
        return nullptr;
    }
    return std::make_unique<direct_system>(std::move(*order));
}

} // namespace tarewell::audit
