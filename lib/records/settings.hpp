#pragma once
#include <date/date.h>

#include <optional>
#include <span>
#include <string_view>
#include <vector>

namespace tarewell::records {

enum class setting_type { positive, nonnegative, amount, whole, list };

/// A number or list that the program may set, dated; its default holds until then.
struct setting_info {
    std::string_view name;
    setting_type type;
    std::string_view default_value;
    std::string_view meaning;
};

std::span<const setting_info> all_settings();
const setting_info* find_setting(std::string_view name);

/// Days of the year as in "04-30; 07-31"; none when one of them is no day. Empty text gives no day.
std::optional<std::vector<date::month_day>> read_due_dates(std::string_view text);

} // namespace tarewell::records
