#pragma once
#include "ledger/ledger.hpp"

#include <span>
#include <string>

namespace tarewell::ledger {

// What is hashed, byte for byte; schema/README.md tells it to people. Fields are "length:text," or "-," for none.
// An entry's hash is SHA-256 of: the hash before it (32 bytes; zeros for the first), its act's digest (32 bytes),
// the entry's form, its values' form.

/// at, who, command, reason, once, source, source_sha256, in this order.
std::string act_form(std::int64_t act, std::span<const std::string_view> texts);

struct entry_heading {
    entry_no seq;
    std::string_view kind, deed;
    std::optional<entry_no> replaces;
    std::string_view effective;
    std::optional<std::int64_t> line;
};
/// Adds it to what is hashed.
void add_entry_form(std::string& message, const entry_heading& heading);

/// The columns as written, but personal ones; the contact's digest where the kind has personal columns; the
/// worked-out whole numbers; columns that came later than their kind, as name and value where given.
std::string values_form(const row& values, std::string_view contact_digest);
void add_values_form(std::string& message, const row& values, std::string_view contact_digest);

/// The salt and the personal columns, whose digest stands in for them.
std::string contact_form(std::string_view salt, const row& values);

} // namespace tarewell::ledger
