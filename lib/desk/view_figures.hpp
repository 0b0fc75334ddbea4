#pragma once
#include "desk/season_view.hpp"

namespace tarewell::desk {

/// view_quarter for what names nobody: its growers have no contact details, which an image of the ledger's rows has
/// not.
quarter_seen view_figures(ledger::ledger_file of, const std::string& quarter,
                          std::optional<entry_no> as_of = std::nullopt);

} // namespace tarewell::desk
