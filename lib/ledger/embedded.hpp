#pragma once
#include <span>
#include <string_view>

namespace tarewell::ledger {

/// A file of schema/ or report_templates/, built into the library by CMake.
struct embedded_file {
    std::string_view name;
    std::string_view text;
};

/// schema/0001_....sql and on, in order of version.
std::span<const embedded_file> schema_files();
/// schema/postgresql/0011_....sql and on, in order of version.
std::span<const embedded_file> postgresql_schema_files();
/// schema/postgresql/roles.sql.
std::span<const embedded_file> postgresql_roles();

} // namespace tarewell::ledger
