#pragma once
#include "desk/season_view.hpp"

#include <string>
#include <vector>

namespace tarewell::desk {

/// What one deed of one person recorded.
struct act_told {
    std::int64_t number = 0;
    std::string at, who, command, source;
    entry_no first = 0, last = 0;
    std::string records; ///< "12 tickets, 1 site"
    std::string undone;  ///< "all", "in part" or empty
};

/// The last acts, at most so many, the latest first.
std::vector<act_told> last_acts(const looked_at& at, std::size_t most);

} // namespace tarewell::desk
