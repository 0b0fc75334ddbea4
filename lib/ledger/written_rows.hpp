#pragma once
// Only for the sources of this room.
#include "ledger/entry_batch.hpp"

namespace tarewell::ledger {

// What an entry's rows hold, value by value in the order of their columns; `to` takes texts (empty is "not given"),
// numbers and hashes.

inline constexpr const char* insert_act_sql = R"sql(
INSERT INTO act (act, at, who, command, reason, once, source, source_sha256)
    VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)
)sql";
inline constexpr std::string_view written_journal = "journal (seq, act, kind, deed, replaces, effective, line, hash)";
inline constexpr std::string_view written_contact = "contact (seq, salt, name, farm, email, phone)";

inline void add_journal_row(auto& to, const entry_batch::entry& of) {
    to.number(of.seq);
    to.number(of.act);
    to.text(records::info(of.values.which).name);
    to.text(name_of(of.what));
    to.number(of.replaces);
    to.text(of.effective);
    to.number(of.line);
    to.blob(of.hash);
}

inline void add_row(auto& to, const entry_batch::entry& of) {
    const auto& kind = records::info(of.values.which);
    to.number(of.seq);
    for (std::size_t i = 0; i < kind.columns.size(); ++i)
        if (!kind.columns[i].personal) to.text(of.values[i]);
    if (!of.contact_digest.empty()) to.text(of.contact_digest);
    for (std::size_t i = 0; i < kind.worked_out.size(); ++i)
        to.number(of.values.worked_out[i]);
}

inline void add_contact(auto& to, const entry_batch::entry& of) {
    const auto& kind = records::info(of.values.which);
    to.number(of.seq);
    to.text(of.salt);
    for (std::size_t i = 0; i < kind.columns.size(); ++i)
        if (kind.columns[i].personal) to.text(of.values[i]);
}

/// Asks for a batch's rows in the order in which they must be written: the journal's, then run by run those of each
/// kind, which refer to them, and their contact rows. `rows` holds the entries that are meant.
template <class Journal, class Kind, class Contact>
void write_in_order(const entry_batch& of, std::vector<const entry_batch::entry*>& rows, Journal&& journal, Kind&& kind,
                    Contact&& contact) {
    const auto& entries = of.entries();
    rows.clear();
    for (const auto& each : entries)
        rows.push_back(&each);
    journal();
    for (std::size_t from = 0, to = 0; from < entries.size(); from = to) {
        const auto which = entries[from].values.which;
        rows.clear();
        for (to = from; to < entries.size() && entries[to].values.which == which; ++to)
            if (entries[to].what != deed::void_) rows.push_back(&entries[to]);
        if (rows.empty()) continue;
        kind(which);
        if (records::info(which).has_personal_columns()) contact();
    }
}

} // namespace tarewell::ledger
