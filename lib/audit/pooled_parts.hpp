#pragma once

#include <optional>
#include <utility>

#include "audit/pooled_model.hpp"
#include "audit/posterior_grid.hpp"
#include "audit/prepared_season.hpp"
#include "audit/student_mixture.hpp"

// Inside of pooled_model, shared by the files that implement it.
namespace tarewell::audit {

// Forms collected one by one: x'beta + a'b.
class form_builder {
  public:
    form_builder(int fixed, int effects) : fixed_(fixed), effects_(effects) {}

    int add(); // a new, empty form; returns its index
    void add_fixed(int form, int column, double value);
    void add_random(int form, int effect, double value); // effect -1: no such effect
    void scale_last(double factor);                      // all of the newest form
    int count() const { return count_; }
    sparse_rows random() const { return rows_from_entries(count_, effects_, entries_); }
    const std::vector<double>& fixed() const { return fixed_values_; }

  private:
    int fixed_;
    int effects_;
    int count_ = 0;
    std::vector<double> fixed_values_;
    std::vector<sparse_entry> entries_;
    std::vector<std::size_t> entries_begin_;
};

// The posterior of forms: for each point of the grid, mean and variance pieces (s^2 included).
struct form_posterior {
    std::vector<double> weight;
    // Each: grid points x forms. part r: the random part; part f: the fixed part x'beta.
    std::vector<std::vector<double>> mean_r, mean_f, var_r, var_f, cov_rf;
    // The total of what is on hand, bundle scatter included: one value a grid point.
    std::vector<double> total_mean, total_var;
};

// What an exact factor may cost before the iterative method is taken.
factor_limits limits_of(const pooled_options& options);

struct pooled_parts {
    pooled_season season;
    pooled_options options;
    prepared_season prepared;
    pooled_fit fit;
    std::unique_ptr<mixed_solver> solver; // null unless fitted
    minimum best;
    std::unique_ptr<student_table> student;

    std::vector<double> weighed_claim; // by grower, in bales of the fit
    std::vector<grower_group> groups;

    // Indices of forms; -1: none.
    std::vector<int> grower_form, site_form, basis_form, group_form;
    mixed_forms forms;
    form_posterior posterior;

    bool usable() const { return solver != nullptr; }
    bool in_fit(const pooled_bundle& bundle) const {
        return bundle.bale >= 0 && prepared.row_of_bale[static_cast<std::size_t>(bundle.bale)] >= 0;
    }
    bool on_hand(const pooled_bundle& bundle) const;

    void run_fit();
    void fill_fit(const mixed_state& state, double s2_for_division);
    void find_groups();
    void run_posterior();

    form_builder make_forms();
    void add_bundle(form_builder& forms, int form, const pooled_bundle& bundle, double e) const;

    std::vector<grower_ratio> claims_of_growers() const; // without intervals and calls
    ratio_interval interval_to_claim(int form) const;
    ratio_interval interval_to_bases(int form) const;
    double below_bases(int form, double r) const; // P(to_bases - 1 <= r)
    // {P(ratio < 1 - tolerance), P(ratio > 1 + tolerance)}
    std::pair<double, double> outside_bases(int form, double tolerance) const;
    std::pair<double, double> outside_one(int form, double tolerance) const;
};

} // namespace tarewell::audit
