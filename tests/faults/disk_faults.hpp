#pragma once
#include "chain_again.hpp"
#include "season_script.hpp"
#include "shim_vfs.hpp"

#include <catch2/catch.hpp>

#include <cstdlib>

namespace tarewell::tests {

enum class trouble { io_error, disk_full, in_use };

/// SQLite's code for a call that fails; 0 when this trouble does not touch it.
inline int code_of(disk_call what, trouble which) {
    if (which == trouble::in_use) return what == disk_call::lock ? SQLITE_BUSY : SQLITE_OK;
    if (which == trouble::disk_full)
        return what == disk_call::write || what == disk_call::create ? SQLITE_FULL : SQLITE_OK;
    switch (what) {
    case disk_call::open:
    case disk_call::create:
        return SQLITE_CANTOPEN;
    case disk_call::read:
        return SQLITE_IOERR_READ;
    case disk_call::write:
        return SQLITE_IOERR_WRITE;
    case disk_call::truncate:
        return SQLITE_IOERR_TRUNCATE;
    case disk_call::sync:
        return SQLITE_IOERR_FSYNC;
    case disk_call::sync_folder:
        return SQLITE_IOERR_DIR_FSYNC;
    case disk_call::size:
        return SQLITE_IOERR_FSTAT;
    case disk_call::lock:
        return SQLITE_IOERR_LOCK;
    case disk_call::unlink:
        return SQLITE_IOERR_DELETE;
    case disk_call::access:
        return SQLITE_IOERR_ACCESS;
    default:
        return SQLITE_OK;
    }
}

struct tally_of_faults {
    std::size_t injected = 0, refused = 0, borne = 0, whole_though_refused = 0;
    std::vector<std::string> wrong;
};

/// Each `nth` call is made to fail; with TAREWELL_LONG each one.
inline std::size_t each(std::size_t nth) { return std::getenv("TAREWELL_LONG") == nullptr ? nth : 1; }

struct fault_plan {
    trouble which;
    bool goes_on;          ///< every later call fails too
    std::size_t every = 1; ///< of the calls, which are made to fail
};

struct outcome_of_fault {
    bool injected = false;
    disk_call at{};
    std::string error; ///< empty: the deed came through
    bool clear = true; ///< an io_error (or busy_error) that says what to do
};

/// Runs the deed with its `nth` call of the disk failing.
inline outcome_of_fault run_with_fault(const deed_at_the_desk& deed, const std::string& path, std::size_t nth,
                                       const fault_plan& plan) {
    outcome_of_fault result;
    std::size_t seen = 0;
    const shim_vfs shim{[&](const disk_event& event) {
        const int code = code_of(event.what, plan.which);
        if (code == SQLITE_OK || ++seen < nth || (result.injected && !plan.goes_on)) return SQLITE_OK;
        if (!result.injected) result.at = event.what;
        result.injected = true;
        return code;
    }};
    const auto is_told = [&](bool right_kind, const std::string& what) {
        result.error = what;
        result.clear = right_kind && (what.find("run the command again") != std::string::npos ||
                                      what.find("try again") != std::string::npos ||
                                      what.find("write it again") != std::string::npos);
    };
    try {
        deed.run(path);
    } catch (const records::io_error& thrown) {
        is_told(plan.which != trouble::in_use, thrown.what());
    } catch (const records::busy_error& thrown) {
        is_told(plan.which == trouble::in_use, thrown.what());
    } catch (const std::exception& thrown) {
        is_told(false, thrown.what());
    }
    return result;
}

inline bool is_sound(const std::string& path) {
    SQLite::Database database{path, SQLite::OPEN_READONLY};
    if (database.execAndGet("PRAGMA integrity_check").getString() != "ok") return false;
    const auto chain = chain_again{path}.all();
    return chain.worked_out == chain.stored;
}

inline void put_bytes(const std::string& path, const std::string& bytes) {
    std::filesystem::remove(path + "-journal");
    std::ofstream{path, std::ios::binary}.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
}

inline std::vector<std::string> names_in(const std::string& folder) {
    std::vector<std::string> names;
    for (const auto& each : std::filesystem::directory_iterator{folder})
        names.push_back(each.path().filename());
    std::sort(names.begin(), names.end());
    return names;
}

inline void check(const char* what, const tally_of_faults& tally) {
    WARN(fmt::format("{}: {} faults injected, {} refused ({} of them whole all the same), {} borne, {} wrong", what,
                     tally.injected, tally.refused, tally.whole_though_refused, tally.borne, tally.wrong.size()));
    CHECK(tally.wrong == std::vector<std::string>{});
    CHECK(tally.refused > 0);
}

} // namespace tarewell::tests
