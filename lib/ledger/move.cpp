#include "ledger/move.hpp"

#include "ledger/database_url.hpp"
#include "ledger/document_bytes.hpp"
#include "ledger/postgresql_engine.hpp"
#include "ledger/rows_beside.hpp"
#include "ledger/sqlite_engine.hpp"
#include "ledger/whole_file.hpp"
#include "ledger/written_rows.hpp"

#include <fmt/format.h>

#include <filesystem>
#include <stdexcept>

namespace tarewell::ledger {

using namespace records; // NOLINT
namespace {

constexpr const char* acts_sql =
    "SELECT act, at, who, command, reason, once, source, source_sha256 FROM act ORDER BY act";
constexpr const char* entries_sql =
    "SELECT seq, act, kind, deed, replaces, effective, line, hash FROM journal ORDER BY seq";
constexpr const char* documents_sql = "SELECT DISTINCT sha256 FROM documents";
constexpr const char* last_entry_sql = "SELECT seq, hash FROM journal ORDER BY seq DESC LIMIT 1";
constexpr std::size_t entries_together = 4096;

void carry_acts(engine& from, engine& to) {
    const auto acts = from.stream(acts_sql);
    const auto insert = to.prepare(insert_act_sql);
    while (acts->step()) {
        insert->reset();
        insert->bind(1, acts->whole(0));
        for (int i = 1; i < 8; ++i)
            insert->bind(i + 1, acts->text(i));
        insert->step();
    }
}

deed deed_called(std::string_view name) {
    for (const auto each : {deed::record, deed::correct, deed::void_, deed::erase})
        if (name_of(each) == name) return each;
    throw ledger_error(fmt::format("the journal knows no deed '{}'; run: tarewell ledger check", name));
}

/// An entry with its row as it stands, for the batch to keep.
class carried_entries {
  public:
    explicit carried_entries(engine& from)
        : entries_{from.stream(entries_sql)}, rows_{from}, contacts_{from, contacts_sql} {}

    bool next(entry_batch& into) {
        if (!entries_->step()) return false;
        entry_batch::entry made;
        made.seq = entries_->whole(0);
        made.act = entries_->whole(1);
        const auto* kind = find_kind(entries_->text(2));
        if (kind == nullptr) throw ledger_error(broken(made.seq));
        made.what = deed_called(entries_->text(3));
        made.replaces = entries_->number(4);
        made.effective = into.keep(entries_->text(5));
        made.line = entries_->number(6);
        made.hash = entries_->hash(7);
        made.values.which = kind->which;
        if (made.what != deed::void_) {
            const auto stored = rows_.row(kind->which, made.seq);
            if (!stored) throw ledger_error(broken(made.seq));
            made.values = into.keep(stored->values);
            if (kind->has_personal_columns()) {
                made.contact_digest = into.keep(rows_.contact_digest(kind->which, made.seq));
                if (contacts_.go_to(made.seq)) made.salt = into.keep((*contacts_).text(1));
            }
        }
        head_ = {made.seq, made.hash, {}};
        into.add(made);
        return true;
    }
    [[nodiscard]] const journal_head& head() const { return head_; }

  private:
    static std::string broken(entry_no seq) {
        return fmt::format("entry {} of the old ledger has no row that can be read; nothing was carried over: run "
                           "tarewell ledger check, and mend the ledger from a backup first",
                           seq);
    }
    std::unique_ptr<query> entries_;
    rows_beside rows_;
    row_stream contacts_;
    journal_head head_;
};

journal_head carry_entries(engine& from, engine& to) {
    carried_entries entries{from};
    const auto inserts = to.inserts();
    entry_batch batch;
    for (bool more = true; more;) {
        more = entries.next(batch);
        if (batch.entries().size() < entries_together && (more || batch.entries().empty())) continue;
        inserts->write(batch);
        batch.clear();
    }
    inserts->finish();
    return entries.head();
}

template <class Body> auto guarded_by(const engine& of, Body&& body) {
    try {
        return body();
    } catch (...) {
        of.rethrow();
        throw;
    }
}

/// The bytes of documents go along. What is missing stays so, and a check tells it.
void carry_documents(engine& from, const std::string& old_path, engine& to, const std::string& new_path) {
    const auto documents = from.stream(documents_sql);
    while (documents->step()) {
        const std::string sha256{documents->text(0)};
        if (const auto bytes = document_in(from, old_path, sha256)) keep_document_in(to, new_path, sha256, *bytes);
    }
}

/// Fills a new ledger whose write is under way, proves it, and commits.
journal_head fill(engine& from, const std::string& old_path, engine& to, const std::string& new_path) {
    return guarded_by(from, [&] {
        return guarded_by(to, [&] {
            write_transaction nobody_else_writes{from};
            to.expect_many();
            carry_acts(from, to);
            const auto head = carry_entries(from, to);
            const auto found = verify(to);
            if (!found.empty())
                throw ledger_error(
                    fmt::format("the old ledger is not sound (entry {}: {}); nothing was carried over: run "
                                "tarewell ledger check on it, and mend it from a backup first",
                                found.front().entry, found.front().what));
            const auto last = to.prepare(last_entry_sql);
            const bool has_any = last->step();
            if (has_any ? last->whole(0) != head.seq || last->hash(1) != head.hash : head.seq != 0)
                throw std::logic_error("the new ledger's head is not the old one's");
            carry_documents(from, old_path, to, new_path);
            to.commit(head.seq, head.hash);
            return head;
        });
    });
}

std::unique_ptr<engine> opened(const std::string& path) {
    return is_in_database(path) ? postgresql_engine::open(path) : sqlite_engine::open(path);
}

} // namespace

journal_head move_ledger(const std::string& from, const std::string& to) {
    const auto old = opened(from);
    if (is_in_database(to)) {
        const auto made = postgresql_engine::begin_new(to);
        return fill(*old, from, *made, to);
    }
    for (const auto& there : {to, to + "-journal"})
        if (std::filesystem::exists(there))
            throw input_error(there + " is there already; nothing was changed. Name a new file");
    whole_file target{to};
    journal_head head;
    {
        const auto made = sqlite_engine::create(target.partial());
        guarded_by(*made, [&] { made->begin_write(); });
        head = fill(*old, from, *made, to);
    }
    target.put_in_place();
    return head;
}

void make_roles(const ledger_file& of) {
    auto* store = dynamic_cast<postgresql_engine*>(of.inside().store.get());
    if (store == nullptr)
        throw input_error(of.path() +
                          " is a file: who may read or write it is told by its permissions and its folder's. "
                          "Roles are for a ledger in a database (postgresql://...)");
    store->make_roles();
}

} // namespace tarewell::ledger
