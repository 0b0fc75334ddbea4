#pragma once
#include "figures/table.hpp"

namespace tarewell::figures {

/// The audit's tables "Audit growers", "Audit bales" and "Audit checks": what the model makes of all that was weighed
/// by the quarter's last day, with a tolerance of 10 %. The fit takes from a blink to minutes, by the season's size.
std::vector<table> audit_tables(const records::season& season, const reconcile::reckoning& reckoned, const basis& on);

/// The same without a row and without a fit: their names and columns.
std::vector<table> audit_tables_without_rows();

} // namespace tarewell::figures
