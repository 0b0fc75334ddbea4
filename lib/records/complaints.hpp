#pragma once
#include "records/kinds.hpp"

#include <array>
#include <string>
#include <unordered_set>

namespace tarewell::records {

/// Takes (column name, what is wrong, what would be right).
using complaint = std::function<void(std::string_view column, std::string what, std::string right)>;

/// The ids of refused rows: who names one of them is not to blame for that.
class excuses {
  public:
    void excuse(const row& refused);
    /// Every id of a kind, for a file that could not be read at all.
    void excuse_all(kind which);
    [[nodiscard]] bool covers(kind which, std::string_view id) const;
    /// True when any row of a kind was refused.
    [[nodiscard]] bool any(kind which) const;

  private:
    std::array<std::unordered_set<std::string>, kind_count> ids_;
    std::array<bool, kind_count> all_{};
};

/// What the rules say of one record.
class complaints {
  public:
    complaints(const row& of, const excuses& refused, const complaint& tell)
        : of_{of}, refused_{refused}, tell_{tell} {}

    void say(std::string_view column, std::string what, std::string right);
    /// A column as it was written.
    [[nodiscard]] std::string_view written(std::string_view column) const { return of_[column]; }
    [[nodiscard]] bool given(std::string_view column) const { return !of_[column].empty(); }
    /// A shared column must say what the record's first row said.
    void agrees(std::string_view column, std::string_view before, std::string_view record);
    /// Both columns are given or neither.
    void together(std::string_view first, std::string_view second);
    /// Says that the column names what nothing defines, unless that was refused itself. `or_else` ends the advice.
    void undefined(std::string_view column, kind of, std::string_view or_else = "");
    [[nodiscard]] bool refused_any(kind of) const { return refused_.any(of); }
    /// The record can't be held against what was refused: it is not taken in, and not blamed.
    void not_to_blame() { excused_ = true; }

    [[nodiscard]] bool good() const { return good_; }
    [[nodiscard]] bool excused() const { return excused_; }

  private:
    const row& of_;
    const excuses& refused_;
    const complaint& tell_;
    bool good_ = true;
    bool excused_ = false;
};

std::string quoted(std::string_view text);

// Nine digits before the point, as in every number that is written: sums over a season stay in 64 bits.
inline constexpr std::int64_t most_thousandths = 999'999'999'999;
inline constexpr std::int64_t most_cents = 99'999'999'999;
/// False when the number passes `most` or 64 bits.
bool is_within(const std::function<std::int64_t()>& worked_out, std::int64_t most);

} // namespace tarewell::records
