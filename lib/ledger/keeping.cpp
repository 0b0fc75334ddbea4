#include "ledger/keeping.hpp"

#include "ledger/database_url.hpp"
#include "ledger/sqlite_engine.hpp"
#include "ledger/whole_file.hpp"

#include <SQLiteCpp/Backup.h>
#include <fmt/format.h>

#include <filesystem>
#include <fstream>

namespace tarewell::ledger {

using namespace records; // NOLINT
namespace {

namespace fs = std::filesystem;

void copy_database(const ledger_file& from, const std::string& to) {
    guarded_file(to, [&] {
        SQLite::Database target{to, SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE};
        // A copy that fails is thrown away whole: a journal would only be left behind on a failing disk.
        target.exec("PRAGMA journal_mode = OFF");
        SQLite::Backup copy{target, database_of(from)};
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
    if (is_in_database(from.path()))
        throw input_error(
            fmt::format("{} is a database, which its server's own tools back up: pg_dump --format=custom "
                        "--file=FILE DATABASE. For a copy that is a ledger's file: tarewell ledger move {} FILE",
                        from.path(), from.path()));
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
    if (is_in_database(to) || is_in_database(backup))
        throw input_error(
            "a database is restored by its server's own tools (pg_restore into a new database); a ledger's file "
            "is carried into a new database by: tarewell ledger move FILE postgresql://...");
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

} // namespace tarewell::ledger
