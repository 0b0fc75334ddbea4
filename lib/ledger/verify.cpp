#include "ledger/verify.hpp"

#include "ledger/hash_form.hpp"
#include "ledger/inside.hpp"
#include "ledger/rows_beside.hpp"
#include "records/erasure.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

namespace tarewell::ledger {

using namespace records; // NOLINT
namespace {

constexpr const char* chain_sql = R"sql(
SELECT seq, act, at, who, command, reason, once, source, source_sha256, kind, deed, replaces, effective, line, hash
    FROM journal LEFT JOIN act USING (act) WHERE seq <= ?1 ORDER BY seq
)sql";
constexpr const char* last_entry_sql = "SELECT coalesce(max(seq), 0) FROM journal";
constexpr const char* erasures_sql = "SELECT seq, kind FROM journal WHERE deed = 'erase' ORDER BY seq";
constexpr const char* orphan_acts_sql = "SELECT act FROM act EXCEPT SELECT act FROM journal ORDER BY act";
constexpr const char* row_counts_sql = R"sql(
SELECT count(*) FROM journal WHERE kind = ?1 AND deed <> 'void'
)sql";

chained_entry entry_in(query& from) {
    chained_entry made;
    auto& entry = made.entry;
    entry.seq = from.whole(0);
    entry.act = from.whole(1);
    entry.at = from.text(2), entry.who = from.text(3), entry.command = from.text(4);
    entry.reason = from.text(5), made.once = from.text(6), entry.source = from.text(7);
    made.source_sha256 = from.text(8), entry.kind = from.text(9), entry.deed = from.text(10);
    entry.replaces = from.number(11);
    entry.effective = from.text(12);
    entry.line = from.number(13);
    entry.hash = hex(from.hash(14));
    return made;
}

/// The chain walked from its first entry; `fault` hears of rows that are missing.
void walk(engine& in, entry_no seq, const std::function<void(const chained_entry&)>& each,
          const std::function<void(entry_no, std::string)>& fault) {
    const auto chain = in.stream(chain_sql);
    chain->bind(1, seq);
    rows_beside rows{in};
    while (chain->step()) {
        auto chained = entry_in(*chain);
        const auto* kind = find_kind(chained.entry.kind);
        const bool has_row = chained.entry.deed != name_of(deed::void_);
        if (kind == nullptr) {
            fault(chained.entry.seq, "is of a kind that nothing knows: " + chained.entry.kind);
        } else if (has_row) {
            const auto stored = rows.row(kind->which, chained.entry.seq);
            if (!stored) {
                fault(chained.entry.seq, fmt::format("has no row in {}", kind->file));
            } else {
                const auto digest =
                    kind->has_personal_columns() ? rows.contact_digest(kind->which, chained.entry.seq) : std::string{};
                chained.values = values_form(stored->values, digest);
            }
        }
        each(chained);
    }
}

/// Whose contact details were erased on request.
std::set<entry_no> erased_in(engine& in) {
    std::set<entry_no> erased;
    rows_beside rows{in};
    const auto erasures = in.stream(erasures_sql);
    while (erasures->step()) {
        const auto* kind = find_kind(erasures->text(1));
        const auto stored = kind == nullptr ? std::nullopt : rows.row(kind->which, erasures->whole(0));
        if (!stored) continue;
        for (const auto entry : forgotten_by(stored->values))
            erased.insert(entry);
    }
    return erased;
}

/// Of the kind that has personal columns.
void check_contacts(engine& store, const kind_info& kind, std::vector<unsound>& found) {
    const auto stray =
        fmt::format("SELECT count(*) FROM (SELECT seq FROM contact EXCEPT SELECT seq FROM {}) AS stray", kind.file);
    if (number_of(store, stray) != 0) found.push_back({0, fmt::format("a contact row belongs to no {}", kind.name)});
    const auto erased = erased_in(store);
    sha256 hasher;
    const auto people = store.stream(sql_of(kind.which).contact_digests);
    row_stream contacts{store, contacts_sql};
    while (people->step()) {
        const auto seq = people->whole(0);
        if (!contacts.go_to(seq)) {
            found.push_back({seq, "has lost its contact row"});
            continue;
        }
        row values;
        values.which = kind.which;
        std::string texts[5];
        for (int i = 0; i < 5; ++i)
            texts[i] = (*contacts).text(i + 1);
        for (std::size_t i = 0, next = 1; i < kind.columns.size(); ++i)
            if (kind.columns[i].personal) values.cells[i] = texts[next++];
        if (erased.contains(seq)) {
            if (std::any_of(std::begin(texts), std::end(texts), [](const auto& text) { return !text.empty(); }))
                found.push_back({seq, "should have been erased and was not"});
        } else if (texts[0].empty()) {
            found.push_back({seq, "has lost its contact details without an erasure in the journal"});
        } else if (hex(hasher.of(contact_form(texts[0], values))) != people->text(1)) {
            found.push_back({seq, "has contact details that differ from their digest"});
        }
    }
}

void check_counts(engine& store, std::vector<unsound>& found) {
    for (const auto& kind : all_kinds()) {
        const auto counted = store.prepare(row_counts_sql);
        counted->bind(1, kind.name);
        counted->step();
        const auto rows = number_of(store, sql_of(kind.which).count);
        if (rows != counted->whole(0))
            found.push_back({0, fmt::format("{} has {} rows and the journal {} entries of it", kind.file, rows,
                                            counted->whole(0))});
    }
    const auto orphans = store.stream(orphan_acts_sql);
    while (orphans->step())
        found.push_back({0, fmt::format("act {} has no entry", orphans->whole(0))});
}

void check_chain(engine& store, std::vector<unsound>& found) {
    sha256 hasher;
    digest before{};
    entry_no expected = 1;
    std::int64_t known_act = 0;
    digest act_digest{};
    std::string message;
    const auto fault = [&](entry_no entry, std::string what) { found.push_back({entry, std::move(what)}); };
    walk(
        store, number_of(store, last_entry_sql),
        [&](const chained_entry& each) {
            const auto& entry = each.entry;
            if (entry.seq != expected) fault(entry.seq, fmt::format("stands where entry {} should", expected));
            expected = entry.seq + 1;
            if (entry.act != known_act) {
                const std::string_view texts[] = {entry.at,  entry.who,    entry.command,     entry.reason,
                                                  each.once, entry.source, each.source_sha256};
                act_digest = hasher.of(act_form(entry.act, texts));
                known_act = entry.act;
            }
            message.assign(bytes(before));
            message += bytes(act_digest);
            add_entry_form(message, {entry.seq, entry.kind, entry.deed, entry.replaces, entry.effective, entry.line});
            message += each.values;
            const auto again = hasher.of(message);
            if (hex(again) != entry.hash)
                fault(entry.seq, "does not give the hash that it carries: it, its act or its row was changed");
            // Go on from what is written, so that each change is told once.
            for (std::size_t i = 0; i < before.size(); ++i)
                before[i] = static_cast<unsigned char>(std::stoi(entry.hash.substr(2 * i, 2), nullptr, 16));
        },
        fault);
}

} // namespace

void for_each_chained_entry(const ledger_file& of, entry_no seq,
                            const std::function<void(const chained_entry&)>& each) {
    guarded(of.inside(), [&] {
        const ledger_file::snapshot one_state{of};
        walk(*of.inside().store, seq, each, [](entry_no entry, const std::string& what) {
            throw ledger_error(fmt::format("entry {} {}; run: tarewell ledger check", entry, what));
        });
    });
}

std::vector<unsound> verify(engine& store) {
    std::vector<unsound> found;
    store.check_tables(found);
    check_counts(store, found);
    check_chain(store, found);
    for (const auto& kind : all_kinds())
        if (kind.has_personal_columns()) check_contacts(store, kind, found);
    return found;
}

std::vector<unsound> verify(const ledger_file& of) {
    return guarded(of.inside(), [&] {
        const ledger_file::snapshot one_state{of};
        return verify(*of.inside().store);
    });
}

} // namespace tarewell::ledger
