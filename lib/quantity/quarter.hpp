#pragma once
#include "quantity/day.hpp"

namespace tarewell::quantity {

/// Quarter `number` (1 to 4) of the program year that begins in `year`.
struct quarter {
    int year = 0;
    int number = 1;
    friend constexpr auto operator<=>(const quarter&, const quarter&) = default;
};

/// "2026-Q3"
std::string text_of(quarter value);

/// Reads `2026-Q3`.
std::optional<quarter> read_quarter(std::string_view text);

quarter next(quarter value);
quarter previous(quarter value);

/// Both days are in it.
struct span_of_days {
    day from;
    day to;
    [[nodiscard]] bool holds(day value) const { return from <= value && value <= to; }
};

/// The quarters of a program whose year begins with month `first_month` (1 to 12). A quarter
/// carries the year in which its program year begins: with 7, January 2027 is in 2026-Q3.
class quarter_calendar {
  public:
    explicit quarter_calendar(int first_month) : first_month_{first_month} {}
    [[nodiscard]] span_of_days days_of(quarter value) const;
    [[nodiscard]] quarter holding(day value) const;

  private:
    int first_month_;
};

} // namespace tarewell::quantity
