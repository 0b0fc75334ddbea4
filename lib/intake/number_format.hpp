#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace tarewell::intake {

// What a number in a workbook's cell is to people: it follows from the cell's format.

/// What a format shows (ECMA-376 part 1, 18.8.30 numFmts and 18.8.31).
struct number_format {
    bool date = false, time = false, percent = false;
    int digits = 0; ///< of a format of zeros alone, such as 00000: so many are shown
};
number_format read_number_format(std::string_view code);
/// Those that have a number and no code of their own (ECMA-376 part 1, 18.8.30).
number_format built_in_format(unsigned number);

/// A double's digits as a spreadsheet shows them: the 15 that it keeps, without an exponent where they fit into a cell;
/// 0.30000000000000004 is 0.3. `digits` as above. None where the text holds no number.
std::optional<std::string> shown_number(std::string_view text, int digits = 0);

/// A date serial as "2026-05-14", "08:30" or both, to the nearest second; seconds only where there are some. `hid_time`
/// hears that the format shows the day alone and the number holds a time too: the day is given. None for a serial that
/// is no day: below 0, past 9999-12-31, or the 29th of February 1900, which the 1900 epoch counts and which never was.
std::optional<std::string> shown_date(std::string_view serial, const number_format& format, bool epoch_1904,
                                      bool& hid_time);

} // namespace tarewell::intake
