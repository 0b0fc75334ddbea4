#pragma once
#include <string>
#include <string_view>

namespace tarewell::ledger {

/// True for "postgresql://..." and "postgres://...": a ledger in a database, and no file.
inline bool is_in_database(std::string_view path) {
    return path.starts_with("postgresql://") || path.starts_with("postgres://");
}

/// "kestrel.tarewell" of a file, "kestrel" of postgresql://host/kestrel?sslmode=require.
inline std::string short_name_of(std::string_view path) {
    if (is_in_database(path)) path = path.substr(0, path.find('?'));
    return std::string{path.substr(path.rfind('/') + 1)};
}

} // namespace tarewell::ledger
