#include "ledger/keeping.hpp"

#include "ledger/inside.hpp"
#include "ledger/whole_file.hpp"

#include <SQLiteCpp/Backup.h>
#include <fmt/format.h>

#include <filesystem>
#include <fstream>

namespace tarewell::ledger {
namespace {

namespace fs = std::filesystem;

constexpr const char* entries_of_grower_sql = "SELECT seq FROM growers WHERE grower = ?1 ORDER BY seq";
constexpr const char* holds_contact_sql = "SELECT salt FROM contact WHERE seq = ?1 AND salt IS NOT NULL";
constexpr const char* erase_sql = R"sql(
UPDATE contact SET salt = NULL, name = NULL, farm = NULL, email = NULL, phone = NULL WHERE seq = ?1
)sql";

void copy_database(const ledger_file& from, const std::string& to) {
    guarded(to, [&] {
        SQLite::Database target{to, SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE};
        // A copy that fails is thrown away whole: a journal would only be left behind on a failing disk.
        target.exec("PRAGMA journal_mode = OFF");
        SQLite::Backup copy{target, from.inside().database};
        copy.executeStep(-1);
    });
}

/// Moves away the rollback journal that a crash left at `path`. It belongs to the file that was there, and SQLite would
/// play it back into the one put in its place.
void set_journal_aside(const std::string& path) {
    const auto journal = path + "-journal";
    if (fs::exists(journal)) fs::rename(journal, path + ".before-restore-journal");
}

/// True when the ledger at `path` is a beginning of the backup, or the same.
bool begins(const ledger_file& backup, const ledger_file& there) {
    const auto head = there.head();
    if (head.seq > backup.head().seq) return false;
    return head.seq == 0 || backup.head_at(head.seq).hash == head.hash;
}

} // namespace

journal_head back_up(const ledger_file& from, const std::string& to) {
    for (const auto& there : {to, to + "-journal"})
        if (fs::exists(there)) throw input_error(there + " is there already; nothing was changed. Name a new file");
    whole_file target{to};
    const ledger_file::snapshot one_state{from};
    const auto head = from.head();
    copy_database(from, target.partial());
    target.put_in_place();
    return head;
}

std::string restore(const std::string& backup, const std::string& to) {
    const auto source = ledger_file::open(backup);
    std::string kept;
    if (fs::exists(to)) {
        if (fs::equivalent(backup, to)) throw input_error("the backup and the ledger are one file: " + to);
        try {
            const auto there = ledger_file::open(to);
            if (!begins(source, there))
                throw input_error(
                    fmt::format("{} has entries that the backup lacks (its last is {}, the backup's {}); nothing "
                                "was changed. Move it away first if it is the wrong one",
                                to, there.head().seq, source.head().seq));
        } catch (const ledger_error&) {
            kept = to + ".before-restore";
            if (fs::exists(kept)) throw input_error(kept + " is there already; move it away first");
        }
    }
    whole_file target{to, whole_file::over::ledgers_too};
    copy_database(source, target.partial());
    if (!kept.empty()) fs::rename(to, kept);
    set_journal_aside(to);
    target.put_in_place();
    return kept;
}

std::string sha256_of_file(const std::string& path) {
    std::ifstream file{path, std::ios::binary};
    if (!file || fs::is_directory(path)) throw io_error(path + " cannot be read");
    sha256 hasher;
    hasher.begin();
    std::string block(1U << 20U, '\0');
    while (file.read(block.data(), static_cast<std::streamsize>(block.size())) || file.gcount() > 0)
        hasher.add({block.data(), static_cast<std::size_t>(file.gcount())});
    if (file.bad()) throw io_error(path + " could not be read to its end");
    return hex(hasher.end());
}

std::string documents_folder(const ledger_file& of) { return of.path() + ".documents"; }

entry_no erase_contact(ledger_file& in, const std::string& grower, const std::string& reason,
                       const surroundings& around) {
    if (reason.empty())
        throw input_error("--why is empty; say in a sentence why, such as: asked by the grower on 2026-11-02");
    return guarded(in.path(), [&]() -> entry_no {
        writer writing{in, around};
        auto& database = in.inside().database;
        SQLite::Statement named{database, entries_of_grower_sql};
        named.bind(1, grower);
        std::string entries;
        std::vector<entry_no> left;
        bool known = false;
        while (named.executeStep()) {
            known = true;
            const auto seq = named.getColumn(0).getInt64();
            SQLite::Statement holds{database, holds_contact_sql};
            holds.bind(1, seq);
            if (!holds.executeStep()) continue;
            left.push_back(seq);
            entries += (entries.empty() ? "" : " ") + std::to_string(seq);
        }
        if (!known) throw input_error(fmt::format("no grower '{}' is defined; mend the id", grower));
        if (left.empty()) return 0;
        row values;
        values.which = kind::erasure;
        values.cells[0] = grower;
        values.cells[1] = entries;
        writing.begin({"erase contact", reason});
        const auto entry = writing.append(values, deed::erase);
        in.inside().may_erase = true;
        try {
            SQLite::Statement erase{database, erase_sql};
            for (const auto seq : left) {
                erase.reset();
                erase.bind(1, seq);
                erase.exec();
            }
        } catch (...) {
            in.inside().may_erase = false;
            throw;
        }
        in.inside().may_erase = false;
        writing.commit();
        return entry;
    });
}

entry_no attach(ledger_file& to, const std::string& kind_name, const std::string& key, const std::string& path,
                const surroundings& around) {
    const auto* kind = find_kind(kind_name);
    if (kind == nullptr || kind->internal) throw input_error(fmt::format("'{}' is no kind of record", kind_name));
    const auto record = fmt::format("{} {}", kind->name, key);
    const auto hash = sha256_of_file(path);
    writer writing{to, around};
    const auto head = to.head().seq;
    bool there = false, attached = false;
    to.for_each(kind->which, head, [&](const stored_row& stored) {
        there = there || key_for_people(stored.values) == key || stored.values[kind->key[0]] == key;
    });
    if (!there) throw input_error(fmt::format("the ledger holds no {}; mend the id", record));
    to.for_each(kind::document, head, [&](const stored_row& stored) {
        attached = attached || (stored.values[0] == record && stored.values[1] == hash);
    });
    const auto folder = fs::path{documents_folder(to)};
    std::error_code failure;
    fs::create_directories(folder, failure);
    const auto kept = (folder / hash).string();
    if (!fs::exists(kept)) {
        whole_file copy{kept};
        if (!fs::copy_file(path, copy.partial(), failure))
            throw io_error(fmt::format("{} could not be copied: {}", path, failure.message()));
        copy.put_in_place();
    }
    if (sha256_of_file(kept) != hash)
        throw io_error(fmt::format("{} was not copied whole; remove {} and try again", path, kept));
    if (attached) return 0;
    const auto name = fs::path{path}.filename().string();
    const auto size = std::to_string(std::max<std::uintmax_t>(fs::file_size(kept), 1));
    row values;
    values.which = kind::document;
    values.cells[0] = record, values.cells[1] = hash, values.cells[2] = name, values.cells[3] = size;
    writing.begin({"attach document", {}, {}, name, hash});
    const auto entry = writing.append(values);
    writing.commit();
    return entry;
}

std::vector<document_fault> check_documents(const ledger_file& of) {
    std::vector<document_fault> faults;
    of.for_each(kind::document, of.head().seq, [&](const stored_row& stored) {
        const auto kept = (fs::path{documents_folder(of)} / std::string{stored.values[1]}).string();
        std::string what;
        if (!fs::exists(kept))
            what = "is missing: " + kept;
        else if (sha256_of_file(kept) != stored.values[1])
            what = "was changed: " + kept;
        if (!what.empty())
            faults.push_back({stored.entry, std::string{stored.values[0]}, std::string{stored.values[2]}, what});
    });
    return faults;
}

} // namespace tarewell::ledger
