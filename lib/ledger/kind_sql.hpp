#pragma once
#include "ledger/kinds.hpp"

#include <span>
#include <string_view>

namespace tarewell::ledger {

/// The statements of one kind's table.
struct kind_sql {
    std::string_view insert;   ///< entry, columns, worked-out numbers
    std::string_view in_force; ///< all rows in force as of ?1, in order of entry
    std::string_view entry;    ///< the row of entry ?1, in force or not
    std::string_view count;    ///< how many rows there are, in force or not
};

const kind_sql& sql_of(kind which);

/// From the award's own row to what processors accepted, in the order of the kinds.
std::span<const kind_sql> film_statements();
/// All that follow: budget, costs and the program's own records.
std::span<const kind_sql> award_statements();

} // namespace tarewell::ledger
