#pragma once
#include "reconcile/reckoning.hpp"

#include <array>
#include <functional>
#include <string_view>

namespace tarewell::reconcile {

/// A ledger row behind a figure, and what it adds to it (thousandths, cents or one; below 0 where it
/// is taken off; none where the row only decides something, as a shipment's date does).
struct evidence_row {
    records::kind which{};
    records::entry_no entry = 0;
    std::optional<std::int64_t> adds;
};

/// A row of a measure: it stands from `on` until the day before `until`.
struct measured {
    evidence_row row;
    day on = day::min();
    std::optional<day> until = std::nullopt;
    std::size_t whom = 0; ///< the grower, site or bale that a distinct count counts once
};
using see_measured = std::function<void(const measured&)>;

/// Where a reviewer finds a measure's rows and what to add up: an evidence table and its columns, by their names. Its
/// formula in the workbook and its second sum follow from this.
struct shown_in {
    std::string_view table;
    std::string_view on = {}; ///< the column of the day; none: every row counts
    std::string_view adds = {}, adds_too = {};
    std::string_view until = {};
    /// Of a table with a row for each thing: how many rows the thing has in the quarter. `on` is the day of its first.
    std::string_view rows_of_thing = {};
    /// Rows whose column says the word, or anything else.
    struct only {
        std::string_view column, word;
        bool is = true;
    };
    std::array<only, 3> where = {};
};

/// Rows by day and what each adds: what figures are expressions over.
struct measure {
    /// Shows every row of the season that may count by `last`.
    void (*rows)(const records::season&, const reckoning&, day last, const see_measured&);
    std::int64_t parts; ///< of a whole in what a row adds: 1000 of a unit of weight, 100 of a dollar, 1 of a count
    shown_in shown;
    bool (*of)(const records::award&) = nullptr; ///< which awards have such rows; null: all
};

} // namespace tarewell::reconcile
