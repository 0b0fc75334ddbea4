#pragma once
#include "quantity/period.hpp"
#include "reconcile/measure.hpp"
#include "reconcile/reckoning.hpp"

#include <optional>
#include <span>
#include <string>
#include <variant>
#include <vector>

namespace tarewell::figures {

using quantity::money;
using quantity::weight;

/// A number that is not a sum of whole units: a ratio, tons, a cost per ton.
using real = double;
using value = std::variant<std::monostate, std::int64_t, weight, money, real>;

/// One figure of a quarter, or of another period: defined once, rendered anywhere.
struct figure {
    std::string name;
    figures::value value; ///< monostate: undefined, and `reason` says why
    std::string unit;
    std::string meaning; ///< a sentence for the reader
    std::string reason;
    std::size_t rows = 0; ///< ledger rows behind it, each once: evidence_of()
};

/// What the figures of one period stand on.
struct basis {
    quantity::period period;
    quantity::span_of_days days;
    records::entry_no as_of = 0;
    bool closed = false;
};

struct report {
    figures::basis basis;
    std::vector<figure> figures;
    [[nodiscard]] const figure* find(std::string_view name) const;
};

/// All figures of a period but its statistics (audit_figures.hpp): what is "in the quarter" is in its days, and what is
/// to date is through its last one. Throws records::input_error without an award.
report figures_of(const records::season& season, const reconcile::reckoning& reckoning, const quantity::period& period,
                  records::entry_no as_of, bool closed);
/// The same over the basis's own days.
report figures_of(const records::season& season, const reconcile::reckoning& reckoning, const basis& on);

/// The ledger rows behind a figure, each once, by entry, and what each adds. Throws std::logic_error where no figure
/// is called so.
std::vector<reconcile::evidence_row> evidence_of(std::string_view figure, const basis& on,
                                                 const records::season& season, const reconcile::reckoning& reckoning);

/// The workbook's formula of a figure over the named ranges of the evidence sheets, with '=' before it. Named:
/// TABLE_COLUMN for each evidence column, quarter_from, quarter_to, unit_per_ton, goal_tons, match_percent,
/// indirect_percent, tipping_fee_per_ton, subawards_over_to_date, subawards_over_before, and each figure. None where
/// the sheets can't be added that way: then the value is shown plainly.
std::optional<std::string> formula_of(std::string_view figure, const basis& on, const records::season& season,
                                      const reconcile::reckoning& reckoning);

/// What a figure of weight comes to over any days. Throws std::logic_error where no figure is called so.
weight weight_over(std::string_view figure, quantity::span_of_days days, const records::season& season,
                   const reconcile::reckoning& reckoning);

/// The names and meanings of all figures, in their order.
struct figure_name {
    std::string_view name;
    std::string_view meaning;
};
std::span<const figure_name> all_figure_names();

/// A value as text: counts plain, weights with three decimals, money with two, reals in full.
std::string text_of(const value& of);

/// A value in the digits that people read on every page, sheet and terminal: as text_of, but dollars a ton to the cent
/// and other reals to four decimals; one that would show as 0 and is not keeps its first digit ("0.00002").
std::string shown(const value& of, std::string_view unit);

} // namespace tarewell::figures
