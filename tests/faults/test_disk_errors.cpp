#include "ledger/chain_again.hpp"
#include "season_script.hpp"
#include "shim_vfs.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;

namespace {

enum class trouble { io_error, disk_full };

/// SQLite's code for a call that fails; 0 when this trouble does not touch it.
int code_of(disk_call what, trouble which) {
    if (which == trouble::disk_full) return what == disk_call::write || what == disk_call::create ? SQLITE_FULL : SQLITE_OK;
    switch (what) {
    case disk_call::open:
    case disk_call::create: return SQLITE_CANTOPEN;
    case disk_call::read: return SQLITE_IOERR_READ;
    case disk_call::write: return SQLITE_IOERR_WRITE;
    case disk_call::truncate: return SQLITE_IOERR_TRUNCATE;
    case disk_call::sync: return SQLITE_IOERR_FSYNC;
    case disk_call::sync_folder: return SQLITE_IOERR_DIR_FSYNC;
    case disk_call::size: return SQLITE_IOERR_FSTAT;
    case disk_call::lock: return SQLITE_IOERR_LOCK;
    case disk_call::unlink: return SQLITE_IOERR_DELETE;
    case disk_call::access: return SQLITE_IOERR_ACCESS;
    default: return SQLITE_OK;
    }
}

struct tally_of_faults {
    std::size_t injected = 0, refused = 0, borne = 0, whole_though_refused = 0;
    std::vector<std::string> wrong;
};

struct fault_plan {
    trouble which;
    bool goes_on; ///< every later call fails too
    std::size_t every = 1; ///< of the calls, which are made to fail
};

/// One deed of the season with the ledger as it stood before.
struct trial {
    const deed_at_the_desk& deed;
    std::string before_bytes;
    ledger_state before, after;
};

bool is_sound(const std::string& path) {
    SQLite::Database database{path, SQLite::OPEN_READONLY};
    if (database.execAndGet("PRAGMA integrity_check").getString() != "ok") return false;
    const auto chain = chain_again{path}.all();
    return chain.worked_out == chain.stored;
}

struct outcome {
    bool injected = false;
    disk_call at{};
    std::string error; ///< empty: the deed came through
    bool clear = true; ///< an io_error, which says what to do
};

outcome run_with_fault(const trial& of, const std::string& path, std::size_t nth, const fault_plan& plan) {
    outcome result;
    std::size_t seen = 0;
    const shim_vfs shim{[&](const disk_event& event) {
        const int code = code_of(event.what, plan.which);
        if (code == SQLITE_OK || ++seen < nth || (result.injected && !plan.goes_on)) return SQLITE_OK;
        if (!result.injected) result.at = event.what;
        result.injected = true;
        return code;
    }};
    try {
        of.deed.run(path);
    } catch (const ledger::io_error& thrown) {
        result.error = thrown.what();
    } catch (const std::exception& thrown) {
        result.error = thrown.what();
        result.clear = false;
    }
    return result;
}

/// What the ledger holds after the fault, and that the same deed then works.
std::string problem_after(const trial& of, const std::string& path, const outcome& result, tally_of_faults& tally) {
    const auto now = state_of(path);
    if (result.error.empty()) {
        ++tally.borne;
        return now == of.after ? "" : "came through, but not all of it is there";
    }
    ++tally.refused;
    if (!result.clear) return "ended in another error than of the disk: " + result.error;
    // With the journal unlinked the deed is done; only the folder's sync failed. It is whole.
    if (now == of.after && result.at == disk_call::sync_folder) ++tally.whole_though_refused;
    else if (now != of.before) return "refused, but the ledger changed";
    of.deed.run(path);
    return state_of(path) == of.after && is_sound(path) ? "" : "the deed done again did not come out right";
}

void fail_at_every_call(const trial& of, const std::string& path, const fault_plan& plan, tally_of_faults& tally) {
    for (std::size_t nth = 1;; nth += plan.every) {
        std::filesystem::remove(path + "-journal");
        std::ofstream{path, std::ios::binary}.write(of.before_bytes.data(), static_cast<std::streamsize>(of.before_bytes.size()));
        const auto result = run_with_fault(of, path, nth, plan);
        if (!result.injected) return;
        ++tally.injected;
        const auto problem = problem_after(of, path, result, tally);
        if (!problem.empty())
            tally.wrong.push_back(fmt::format("{}, call {} (kind {}): {}", of.deed.name, nth, static_cast<int>(result.at), problem));
    }
}

std::vector<std::string> files_in(const std::string& folder) {
    std::vector<std::string> names;
    for (const auto& each : std::filesystem::directory_iterator{folder}) names.push_back(each.path().filename());
    std::sort(names.begin(), names.end());
    return names;
}

tally_of_faults fail_everywhere(const fault_plan& plan) {
    const temporary_folder folder{quick_disk()};
    for (const auto& [name, text] : base_files()) folder.write(name, text);
    const auto path = folder.file("basin.tarewell");
    const auto deeds = season_script(folder.path());
    tally_of_faults tally;
    deeds.front().run(path);
    for (std::size_t i = 1; i < deeds.size(); ++i) {
        trial of{deeds[i], bytes_in(path), state_of(path), {}};
        deeds[i].run(path);
        of.after = state_of(path);
        const auto after_bytes = bytes_in(path);
        fail_at_every_call(of, path, plan, tally);
        std::ofstream{path, std::ios::binary}.write(after_bytes.data(), static_cast<std::streamsize>(after_bytes.size()));
    }
    return tally;
}

/// Fails at every call of a backup in turn: there is no copy then, nor anything that looks like one.
tally_of_faults fail_while_backing_up(const fault_plan& plan) {
    const temporary_folder folder{quick_disk()};
    for (const auto& [name, text] : base_files()) folder.write(name, text);
    const auto path = folder.file("basin.tarewell"), copy = folder.file("copy.tarewell");
    const auto deeds = season_script(folder.path());
    for (const auto& deed : {deeds[0], deeds[1]}) deed.run(path);
    const deed_at_the_desk back_up{"back up", [&](const auto& at) { ledger::back_up(ledger::ledger_file::open(at), copy); }};
    const auto state = state_of(path);
    const auto files_before = files_in(folder.path());
    const trial of{back_up, {}, state, state};
    tally_of_faults tally;
    for (std::size_t nth = 1;; nth += plan.every) {
        const auto result = run_with_fault(of, path, nth, plan);
        if (!result.injected) return tally;
        ++tally.injected;
        ++(result.error.empty() ? tally.borne : tally.refused);
        const bool left_nothing = result.error.empty() || files_in(folder.path()) == files_before;
        if (!result.clear || !left_nothing || state_of(path) != state)
            tally.wrong.push_back(fmt::format("back up, call {} (kind {}): {}", nth, static_cast<int>(result.at), result.error));
        if (!result.error.empty()) back_up.run(path);
        if (state_of(copy) != state || !is_sound(copy)) tally.wrong.push_back(fmt::format("back up, call {}: the copy differs", nth));
        std::filesystem::remove(copy);
    }
}

void check(const char* what, const tally_of_faults& tally) {
    WARN(fmt::format("{}: {} faults injected, {} refused ({} of them whole all the same), {} borne, {} wrong", what,
                     tally.injected, tally.refused, tally.whole_though_refused, tally.borne, tally.wrong.size()));
    CHECK(tally.wrong == std::vector<std::string>{});
    CHECK(tally.refused > 0);
}

} // namespace

TEST_CASE("an error of the disk at any one call is told as such and leaves the ledger as it was") {
    check("I/O errors, once", fail_everywhere({trouble::io_error, false}));
}

TEST_CASE("a disk that fails from any call on leaves the ledger as it was") {
    check("I/O errors, from then on", fail_everywhere({trouble::io_error, true, 3}));
}

TEST_CASE("a disk that is full at any write leaves the ledger as it was") {
    check("disk full, once", fail_everywhere({trouble::disk_full, false}));
    check("disk full, from then on", fail_everywhere({trouble::disk_full, true, 3}));
}

TEST_CASE("a backup whose disk fails or is full at any call leaves no copy and the ledger as it was") {
    check("backup, I/O errors, from then on", fail_while_backing_up({trouble::io_error, true}));
    check("backup, I/O errors, once", fail_while_backing_up({trouble::io_error, false}));
    check("backup, disk full", fail_while_backing_up({trouble::disk_full, true}));
}
