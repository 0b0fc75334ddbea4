#pragma once
#include "records/map_rule.hpp"

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace tarewell::intake {

// How a value that somebody wrote becomes ours, by what a map says of the sheet. What it does not say is refused.

/// A value of ours, or what is wrong and what would be right.
struct read_value {
    std::string value;
    std::string what = {}, right = {}; ///< both empty when it is good
    std::string doubt = {};            ///< worth a look: rounded, matched by a part of a name
    [[nodiscard]] bool good() const { return what.empty(); }
};

/// What a map says of the whole sheet: "dates" is "mdy".
class sheet_rules {
  public:
    void set(const std::string& rule, std::string value) { said_[rule] = std::move(value); }
    /// Empty where it says nothing.
    [[nodiscard]] const std::string& operator[](std::string_view rule) const;
    [[nodiscard]] bool says(std::string_view rule, std::string_view value) const { return (*this)[rule] == value; }

  private:
    std::map<std::string, std::string, std::less<>> said_;
};

/// A date as "2026-05-14": so written already, or in the order that the map tells, with months as numbers or in
/// English.
read_value read_date(std::string_view text, const sheet_rules& sheet);

/// A number with the map's marks, as plain digits: "$1,234.50" is 1234.50. `unit` of the map, where it names one, is
/// that of a number without a unit; the column counts in `into`. Converted exactly, and rounded half up to 6 decimals
/// where it does not come out even.
read_value read_number(std::string_view text, const sheet_rules& sheet, std::string_view unit, std::string_view into);

/// A word as the map translates it; `words` as "HT=high tunnel | GH=greenhouse", read whatever their case. Ours are
/// good as they are.
read_value read_word(std::string_view text, std::string_view words);

/// Without spaces and no-break spaces at its ends.
std::string_view trimmed(std::string_view text);

} // namespace tarewell::intake
