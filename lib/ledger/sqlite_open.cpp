#include "ledger/embedded.hpp"
#include "ledger/sqlite_engine.hpp"

#include <fmt/format.h>
#include <sqlite3.h>

#include <charconv>
#include <filesystem>
#include <fstream>

namespace tarewell::ledger {

using namespace records; // NOLINT
namespace {

constexpr int application_id = 0x54776C6C; // "Twll"

/// Denies what no part of the program does: changing the schema, deleting, updating.
int authorize(void* inside_pointer, int action, const char* first, const char* /*second*/, const char* /*database*/,
              const char* trigger) {
    const auto& inside = *static_cast<const sqlite_engine*>(inside_pointer);
    if (inside.schema_may_change) return SQLITE_OK;
    switch (action) {
    case SQLITE_READ:
    case SQLITE_SELECT:
    case SQLITE_FUNCTION:
    case SQLITE_RECURSIVE:
    case SQLITE_TRANSACTION:
    case SQLITE_SAVEPOINT:
    case SQLITE_INSERT:
    case SQLITE_PRAGMA:
        return SQLITE_OK;
    case SQLITE_UPDATE:
        return inside.may_erase && trigger == nullptr && std::string_view{first} == "contact" ? SQLITE_OK : SQLITE_DENY;
    default:
        return SQLITE_DENY;
    }
}

int version_in(const embedded_file& file) {
    int version = 0;
    std::from_chars(file.name.data(), file.name.data() + 4, version);
    return version;
}

void bring_schema_up(sqlite_engine& inside) {
    auto& database = inside.database;
    const permission given{inside.schema_may_change};
    // A table that others refer to can be made anew only while nobody looks (SQLite, "Making other kinds of table
    // schema changes", step 1).
    database.exec("PRAGMA foreign_keys = OFF");
    for (const auto& file : schema_files()) {
        write_transaction step{inside};
        // Asked again inside: another process may just have done it.
        if (database.execAndGet("PRAGMA user_version").getInt() >= version_in(file)) continue;
        database.exec(std::string{file.text});
        database.exec(fmt::format("PRAGMA user_version = {}", version_in(file)));
        database.exec(fmt::format("PRAGMA application_id = {}", application_id));
        step.commit(0, {});
    }
    database.exec("PRAGMA foreign_keys = ON");
}

void refuse_foreign(sqlite_engine& inside) {
    auto& database = inside.database;
    if (database.execAndGet("PRAGMA application_id").getInt() != application_id)
        throw ledger_error(fmt::format("{} is a database, but not a Tarewell ledger; name the "
                                       "ledger's file, or make one with: tarewell new FILE",
                                       inside.path));
    const int version = database.execAndGet("PRAGMA user_version").getInt();
    const int known = version_in(schema_files().back());
    if (version > known)
        throw ledger_error(fmt::format("{} was written by a newer Tarewell (schema {}, this program "
                                       "knows {}); use the newer program",
                                       inside.path, version, known));
}

void refuse_what_is_no_database(const std::string& path) {
    namespace fs = std::filesystem;
    std::error_code failure;
    if (!fs::exists(path, failure))
        throw input_error(fmt::format("there is no ledger at {}; make one with: tarewell new {}", path, path));
    if (fs::is_directory(path, failure)) throw input_error(path + " is a folder; name the ledger's file");
    std::ifstream file{path, std::ios::binary};
    if (!file) throw io_error(path + " cannot be read; check its permissions");
    char magic[16] = {};
    file.read(magic, sizeof magic);
    if (file.gcount() == 0)
        throw ledger_error(path + " is empty, not a ledger; restore it from a backup, or remove it "
                                  "and make a new one");
    // A power loss can leave noise where the file begins. Its journal then puts that right as the file
    // is opened, and what is no ledger after all is refused there.
    if (fs::exists(path + "-journal", failure)) return;
    if (std::string_view{magic, sizeof magic} != std::string_view{"SQLite format 3\0", 16})
        throw ledger_error(path + " is not a Tarewell ledger, or its beginning is damaged; restore "
                                  "it from a backup if it was one");
}

/// All settings of an open ledger, then the schema's missing versions.
void prepare(sqlite_engine& inside, bool fresh) {
    auto& database = inside.database;
    sqlite3* handle = database.getHandle();
    sqlite3_db_config(handle, SQLITE_DBCONFIG_DEFENSIVE, 1, nullptr);
    sqlite3_extended_result_codes(handle, 1);
    database.exec("PRAGMA foreign_keys = ON");
    database.exec("PRAGMA recursive_triggers = ON");
    database.exec("PRAGMA trusted_schema = OFF");
    database.exec("PRAGMA cell_size_check = ON");
    database.exec("PRAGMA mmap_size = 0");
    database.exec("PRAGMA cache_size = -16384"); // KiB; a writer of many entries takes more
    database.exec("PRAGMA temp_store = MEMORY");
    database.exec("PRAGMA secure_delete = ON");
    if (!fresh) refuse_foreign(inside);
    database.exec("PRAGMA journal_mode = DELETE");
    database.exec("PRAGMA synchronous = EXTRA");
    sqlite3_set_authorizer(handle, authorize, &inside);
    const int version = database.execAndGet("PRAGMA user_version").getInt();
    if (version < version_in(schema_files().back())) bring_schema_up(inside);
}

/// SQLite counts its memory for whoever asks, under a lock at each allocation; nobody here asks. It is refused, and
/// does no harm, where the process has used SQLite before.
void count_no_memory() {
    static const int told = sqlite3_config(SQLITE_CONFIG_MEMSTATUS, 0);
    (void)told;
}

std::unique_ptr<engine> opened(const std::string& path, int flags, bool fresh) {
    count_no_memory();
    return guarded_file(path, [&] {
        auto made = std::make_unique<sqlite_engine>(path, flags | SQLite::OPEN_READWRITE | SQLite::OPEN_NOMUTEX);
        prepare(*made, fresh);
        return made;
    });
}

} // namespace

std::unique_ptr<engine> sqlite_engine::create(const std::string& path) {
    if (std::filesystem::exists(path))
        throw input_error(path + " is there already; nothing was changed. Choose another name");
    return opened(path, SQLite::OPEN_CREATE, true);
}

std::unique_ptr<engine> sqlite_engine::open(const std::string& path) {
    refuse_what_is_no_database(path);
    return opened(path, 0, false);
}

} // namespace tarewell::ledger
