#pragma once
#include "ledger/ledger.hpp"
#include "records/complaints.hpp"

#include <optional>

namespace tarewell::intake {

/// What a ledger knows of a key.
struct key_state {
    records::entry_no entry = 0; ///< in force, or the void's entry
    bool voided = false;
    bool in_this_file = false;
    std::uint32_t line = 0;
    bool undone = false; ///< voided with all that its act recorded: a file brings it back
};

/// A row beside the ledger: new, known already (and said so in `note` where that is worth a word), or refused.
enum class standing { fresh, known, refused };

/// Where a row stands whose key is known. `earlier` are the entries of its key that were replaced.
standing stand(const ledger::ledger_file& file, const records::row& values, const key_state& known,
               const std::function<std::vector<records::entry_no>()>& earlier, const records::complaint& complain,
               std::string& note);

/// What the ledger knows of one row's key, by the key's index.
struct key_line {
    std::optional<key_state> now;
    std::vector<records::entry_no> earlier;
};
key_line line_of_key(const ledger::ledger_file& file, const records::row& values, records::entry_no head);

/// True when two texts of a column mean the same value: 228 and 228.0 are one number.
bool same_value(const records::column& column, std::string_view a, std::string_view b);

} // namespace tarewell::intake
