#pragma once
#include "figures/closing.hpp"
#include "ledger/quick_season.hpp"

namespace tarewell::figures {

/// view_period by the image of the ledger's rows, where there is one. What is filed is worked out without it.
period_view quick_view(const ledger::ledger_file& file, const quantity::period& period, records::entry_no as_of,
                       ledger::people whose);

} // namespace tarewell::figures
