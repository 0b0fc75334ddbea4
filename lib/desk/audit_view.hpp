#pragma once
#include "audit/pooled_model.hpp"
#include "desk/answer.hpp"
#include "desk/season_view.hpp"
#include "figures/audit_input.hpp"

#include <optional>
#include <string>

namespace tarewell::desk {

/// What every question to the audit may be asked: which days of weighing, as of which entry.
struct audit_request {
    std::string quarter, from, to;
    std::optional<entry_no> as_of;
};

/// The season as the audit sees it, and the model fitted to it.
struct audit_view {
    season_view seen;
    std::string quarter;
    std::optional<quantity::span_of_days> days;
    figures::audit_input input;
    audit::pooled_model model;

    /// True when ratios and intervals can be given.
    [[nodiscard]] bool fitted() const;
    /// Why they can't; empty when fitted.
    [[nodiscard]] std::string reason() const;
    [[nodiscard]] std::string unit() const { return seen.unit(); }
    /// "from 2026-07-01 to 2026-09-30" or "all days of the ledger"
    [[nodiscard]] std::string days_in_words() const;
    /// "12 bales, 1 load and 4 bundles weighed alone"
    [[nodiscard]] std::string weighings_in_words() const;
    /// What opens every JSON answer: the days, the unit, the entry.
    [[nodiscard]] value head() const;
    /// "bale B001", "load SH03 (4 bales)", "bundle R009-1 weighed alone"
    [[nodiscard]] std::string row_in_words(std::size_t row) const;
    [[nodiscard]] value row_fields(std::size_t row) const;

    [[nodiscard]] const std::string& grower_id(int grower) const;
    [[nodiscard]] const std::string& site_id(int site) const;
    [[nodiscard]] std::string basis_name(int basis) const;
};

/// Throws input_error for days that can't be read or a ledger without an award.
audit_view view_audit(ledger::ledger_file of, const audit_request& request);

/// The days of a request: its quarter's, or from and to.
std::optional<quantity::span_of_days> days_of(const audit_request& request, const season_view& seen);

/// "10%", "10" and "0.1" all mean ten percent: with a percent sign or from 1 on a number is percents, below 1 a share.
/// Throws input_error unless it is above 0 and below 100 %.
double read_tolerance(const std::string& text);

std::string percent_text(double share);
std::string ratio_text(const std::optional<audit::ratio_interval>& of);
std::string interval_text(const std::optional<audit::ratio_interval>& of);
/// Fields ratio, low and high, or nulls with the reason.
void put_interval(value& to, const std::optional<audit::ratio_interval>& of, const std::string& reason);
/// The same as a table's cells: ratio, interval (for machines its low end), high, and the reason where there is none.
std::array<cell, 4> interval_cells(const std::optional<audit::ratio_interval>& of, const std::string& reason);
/// Claims of the bundles behind each weighing, by row.
std::vector<double> claims_by_row(const figures::audit_input& of);
/// The model's weight as a decimal string, and for a table in whole units with the unit's name.
std::string weight_text(double value);
std::string rounded_text(double value, const std::string& unit);

} // namespace tarewell::desk
