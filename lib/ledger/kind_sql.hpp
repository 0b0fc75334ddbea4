#pragma once
#include "records/kinds.hpp"

#include <string>

namespace tarewell::ledger {

/// The statements of one kind's table, which follow from its columns. In force as of ?1: recorded by then, neither
/// replaced nor voided by then.
struct kind_sql {
    std::string written;         ///< "TABLE (...)": entry, columns, contact digest where it has one, worked-out numbers
    std::string written_values;  ///< one row's marks, in parentheses
    std::string in_force;        ///< all rows in force as of ?1, in order of entry
    std::string all;             ///< all rows, in force or not, in order of entry
    std::string entry;           ///< the row of entry ?1, in force or not
    std::string has_any;         ///< whether there is a row, in force or not
    std::string count;           ///< how many rows there are, in force or not
    std::string contact_digests; ///< entry and digest, in order of entry; empty where the kind has no personal columns

    /// The rows whose column holds ?2: those in force as of ?1, or all up to ?1.
    [[nodiscard]] std::string in_force_with(std::string_view column) const;
    [[nodiscard]] std::string ever_with(std::string_view column) const;

    std::string select; ///< entry, columns, worked-out numbers, FROM the table
};

const kind_sql& sql_of(records::kind which);

} // namespace tarewell::ledger
