#pragma once
// Only for the sources of this room.
#include "ledger/inside.hpp"

#include <cstring>

namespace tarewell::ledger {

inline std::string_view text_in(const SQLite::Column& column) {
    if (column.isNull()) return {};
    return {column.getText(), static_cast<std::size_t>(column.getBytes())};
}

inline digest digest_in(const SQLite::Column& column) {
    digest value{};
    if (column.getBytes() == static_cast<int>(value.size())) std::memcpy(value.data(), column.getBlob(), value.size());
    return value;
}

/// A statement of sql_of(kind) on its row; the views hold until it steps or is reset.
void read_row(SQLite::Statement& statement, stored_row& into);

} // namespace tarewell::ledger
