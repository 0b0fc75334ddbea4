#pragma once
#include "quantity/quarter.hpp"

namespace tarewell::quantity {

/// What a report tells of: a quarter, a program year, the whole award to its end, or a span of quarters or of months.
struct period {
    enum class kind { quarter, year, whole_award, quarters, months };
    period::kind is = kind::quarter;
    quantity::quarter first, last;       ///< of a quarter, a year or a span of quarters
    int first_month = 0, last_month = 0; ///< of a span of months: 12 x year + month - 1

    period() = default;
    period(quantity::quarter one) : first{one}, last{one} {} // NOLINT(google-explicit-constructor): a quarter is one
    period(int year, int number) : period{quarter{year, number}} {}
    /// The program year that begins in a calendar year.
    static period year(int of);
    /// To its end; the award knows its days.
    static period whole_award();

    friend bool operator==(const period&, const period&) = default;
    [[nodiscard]] bool is_quarter() const { return is == kind::quarter; }
    /// A span is looked at; what is neither is a report that somebody certifies.
    [[nodiscard]] bool is_span() const { return is == kind::quarters || is == kind::months; }
    /// What people call it: "quarter", "year" or "period".
    [[nodiscard]] std::string_view word() const;
};

/// "2026-Q3", "2026", "final", "2026-Q1..2026-Q3", "2026-04..2026-09"
std::string text_of(const period& value);

/// The same in a title or sentence: "2026-Q3", "2026", "the whole award".
std::string title_of(const period& value);

/// Reads what text_of writes; none for a span that ends before it begins, and for a month alone.
std::optional<period> read_period(std::string_view text);

/// The days of a period whose quarters are the calendar's. Throws std::logic_error for the whole award, whose days the
/// award knows (records::season::days_of).
span_of_days days_of(const period& of, const quarter_calendar& calendar);

/// How the periods are written, for a message.
inline constexpr const char* periods_in_words =
    "write a quarter as 2026-Q3, a program year as 2026, the whole award as final, a span as 2026-Q1..2026-Q3 or "
    "2026-04..2026-09";

/// A sentence about a quarter, said of this period: "in the quarter" becomes "in the year". Names such as quarter_from
/// and the plural stay.
std::string said_of(const period& of, std::string_view sentence);

} // namespace tarewell::quantity
