#pragma once
#include <span>
#include <string_view>

namespace tarewell::ledger {

enum class setting_type { positive, nonnegative, amount, list };

/// A number or list that the program may set, dated; its default holds until then.
struct setting_info {
    std::string_view name;
    setting_type type;
    std::string_view default_value;
    std::string_view meaning;
};

std::span<const setting_info> all_settings();
const setting_info* find_setting(std::string_view name);

} // namespace tarewell::ledger
