#pragma once
#include "desk/answer.hpp"
#include "desk/season_view.hpp"

namespace tarewell::desk {

/// The rows behind a figure. Throws records::input_error for a name that no figure has.
answer rows_behind(const quarter_seen& shown, const std::string& figure);

/// The figures that a record moves. Throws records::input_error for one that is not there.
answer figures_moved_by(const quarter_seen& shown, const records::kind_info& kind, const std::string& key);

} // namespace tarewell::desk
