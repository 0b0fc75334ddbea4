#include "chain_again.hpp"
#include "ledger/sqlite_engine.hpp"
#include "power_loss.hpp"
#include "season_script.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using ledger::ledger_file;

namespace {

/// A season under the watch of the shim: what it did to the disk, and where each deed was acknowledged.
struct recording {
    std::vector<logged_event> events;
    std::vector<std::size_t> acknowledged_at; ///< events done when the deed returned
    std::vector<ledger_state> states;         ///< after each deed
};

void write_csv_files(const temporary_folder& folder) {
    for (const auto& [name, text] : base_files())
        folder.write(name, text);
}

recording record_season(const std::string& path, const std::vector<deed_at_the_desk>& deeds) {
    recording made;
    const shim_vfs shim{[&](const disk_event& event) {
        if (changes_the_disk(event.what))
            made.events.push_back({event.what, event.path, event.offset, std::string{event.bytes}});
        return SQLITE_OK;
    }};
    for (const auto& deed : deeds) {
        deed.run(path);
        made.acknowledged_at.push_back(made.events.size());
        made.states.push_back(state_of(path));
    }
    return made;
}

/// 2,000; ten times that with TAREWELL_LONG; TAREWELL_CRASH_POINTS in the environment asks for another number.
std::size_t crash_points_wanted() {
    if (const char* asked = std::getenv("TAREWELL_CRASH_POINTS")) return std::stoul(asked);
    return std::getenv("TAREWELL_LONG") == nullptr ? 2'000 : 20'000;
}

/// What was wrong with the ledgers found after the crashes; all must stay 0.
struct losses {
    std::size_t points = 0, lost = 0, half = 0, damaged = 0, in_flight_kept = 0, rolled_back = 0, continued = 0;
};

std::string sql_text(SQLite::Database& database, const char* sql) { return database.execAndGet(sql).getString(); }

/// Integrity, foreign keys and the hash chain, by SQL of the test's own.
bool file_is_sound(const std::string& path) {
    SQLite::Database database{path, SQLite::OPEN_READONLY};
    if (sql_text(database, "PRAGMA integrity_check") != "ok") return false;
    if (sql_text(database, "SELECT count(*) FROM pragma_foreign_key_check") != "0") return false;
    const auto chain = chain_again{path}.all();
    return chain.worked_out == chain.stored;
}

/// The season's file before `create` was acknowledged: whole and empty, or refused as no ledger; what
/// the refusal advises (remove it, make a new one) works.
void check_unborn(const std::string& path, losses& found) {
    try {
        if (state_of(path).seq != 0 || !file_is_sound(path)) ++found.half;
        return;
    } catch (const records::input_error&) {
    } catch (const records::ledger_error&) {
    }
    std::filesystem::remove(path);
    ledger_file::create(path);
    if (state_of(path).seq != 0 || !file_is_sound(path)) ++found.damaged;
}

void check_after_crash(const std::string& path, const recording& season, std::size_t acknowledged, losses& found) {
    ++found.points;
    if (acknowledged == 0) return check_unborn(path, found);
    if (std::filesystem::exists(path + "-journal")) ++found.rolled_back;
    try {
        const auto now = state_of(path);
        const auto& expected = season.states[acknowledged - 1];
        const bool in_flight = acknowledged < season.states.size() && now == season.states[acknowledged];
        if (now == expected && file_is_sound(path)) return;
        if (in_flight && file_is_sound(path))
            ++found.in_flight_kept;
        else if (now.seq < expected.seq)
            ++found.lost;
        else
            ++found.half;
    } catch (const std::exception& thrown) {
        WARN(thrown.what());
        ++found.damaged;
    }
}

/// The desk goes on where it stood: the whole script again ends in the same head.
void go_on(const std::string& path, const std::vector<deed_at_the_desk>& deeds, const recording& season,
           losses& found) {
    try {
        for (const auto& deed : deeds)
            deed.run(path);
        if (state_of(path) == season.states.back())
            ++found.continued;
        else
            ++found.half;
    } catch (const std::exception& thrown) {
        UNSCOPED_INFO(thrown.what());
        ++found.damaged;
    }
}

struct crashing {
    std::size_t crashes_at_each = 1;
    double trashed = 0;
    std::size_t go_on_every = 0; ///< 0: never
};

/// Cuts the power during each event of the season in turn.
losses crash_everywhere(const recording& season, const std::vector<deed_at_the_desk>& deeds, const crashing& how) {
    const temporary_folder folder{quick_disk()};
    const auto path = folder.file("basin.tarewell");
    std::mt19937_64 dice{20260514};
    power_loss_disk disk;
    losses found;
    std::size_t acknowledged = 0;
    for (std::size_t k = 0; k < season.events.size(); ++k) {
        while (season.acknowledged_at[acknowledged] <= k)
            ++acknowledged;
        // A sync or write that was going on: as far as the dice let it come.
        const bool sync = season.events[k].what == disk_call::sync || season.events[k].what == disk_call::sync_folder;
        if (!sync) disk.apply(season.events[k]);
        for (std::size_t i = 0; i < how.crashes_at_each; ++i) {
            constexpr double shares[] = {0.5, 0.1, 0.9};
            put_on_disk(folder.path(), disk.after_power_loss(dice, {shares[(k + i) % 3], how.trashed}));
            check_after_crash(path, season, acknowledged, found);
            const bool goes_on = how.go_on_every != 0 && acknowledged > 0 && found.points % how.go_on_every == 0;
            if (goes_on) go_on(path, deeds, season, found);
        }
        if (sync) disk.apply(season.events[k]);
    }
    return found;
}

std::string line_of(const char* what, const losses& found) {
    return fmt::format("{}: {} crash points, {} lost, {} half there, {} damaged; {} rolled back a journal, {} kept "
                       "the deed in flight whole, {} went on to the season's end",
                       what, found.points, found.lost, found.half, found.damaged, found.rolled_back,
                       found.in_flight_kept, found.continued);
}

} // namespace

TEST_CASE("a power loss at any write, sync or unlink loses nothing acknowledged and leaves nothing half there") {
    const temporary_folder csv;
    write_csv_files(csv);
    const auto deeds = season_script(csv.path());
    const temporary_folder folder;
    const auto season = record_season(folder.file("basin.tarewell"), deeds);
    REQUIRE(season.states.size() == deeds.size());
    const auto each = crash_points_wanted() / season.events.size() + 1;
    const auto found = crash_everywhere(season, deeds, {each, 0, 20});
    WARN(line_of("power loss", found));
    CHECK(found.points >= crash_points_wanted());
    CHECK(found.lost == 0);
    CHECK(found.half == 0);
    CHECK(found.damaged == 0);
    CHECK(found.rolled_back > 0);
    CHECK(found.continued > 0);
}

TEST_CASE("a power loss that leaves noise in unsynced sectors does no more harm") {
    const temporary_folder csv;
    write_csv_files(csv);
    const auto deeds = season_script(csv.path());
    const temporary_folder folder;
    const auto season = record_season(folder.file("basin.tarewell"), deeds);
    const auto found = crash_everywhere(season, deeds, {2, 0.5, 0});
    WARN(line_of("power loss with noise", found));
    CHECK(found.lost == 0);
    CHECK(found.half == 0);
    CHECK(found.damaged == 0);
}

TEST_CASE("a disk that fails from one call on holds just what the log of calls says") {
    const temporary_folder csv;
    write_csv_files(csv);
    const auto deeds = season_script(csv.path());
    const temporary_folder folder;
    const auto path = folder.file("basin.tarewell");
    const auto season = record_season(path, deeds);
    power_loss_disk disk;
    std::size_t compared = 0;
    for (std::size_t k = 0; k < season.events.size(); ++k) {
        constexpr std::size_t one_in = 7; // a run of the script each: spread over all of it
        if (k % one_in == 0) {
            put_on_disk(folder.path(), {});
            std::size_t done = 0;
            const shim_vfs shim{[&](const disk_event& event) {
                if (!changes_the_disk(event.what)) return done > k ? SQLITE_IOERR : SQLITE_OK;
                return done++ >= k ? SQLITE_IOERR : SQLITE_OK;
            }};
            CHECK_THROWS_AS(([&] {
                                for (const auto& deed : deeds)
                                    deed.run(path);
                            }()),
                            records::io_error);
            std::map<std::string, std::string> files;
            for (const auto& each : std::filesystem::directory_iterator{folder.path()})
                files[each.path().string()] = bytes_in(each.path().string());
            CHECK(files == disk.as_seen());
            ++compared;
        }
        disk.apply(season.events[k]);
    }
    WARN(fmt::format("live power cuts compared with the log: {}", compared));
}

TEST_CASE("the crash rig sees the loss that synchronous FULL would allow") {
    // The rig proves nothing unless it notices: an unlink that is not synced brings the journal back.
    const temporary_folder folder;
    const auto path = folder.file("basin.tarewell");
    std::vector<deed_at_the_desk> deeds{{"create", [](const auto& at) { ledger_file::create(at); }}};
    for (int i = 1; i <= 12; ++i)
        deeds.push_back({"record site", [i](const auto& at) {
                             auto file = ledger_file::open(at);
                             ledger::database_of(file).exec("PRAGMA synchronous = FULL");
                             intake::record(file, records::kind::site,
                                            {{"site", fmt::format("S{}", i)}, {"name", "Lot"}}, standing_still());
                         }});
    const auto season = record_season(path, deeds);
    const auto found = crash_everywhere(season, deeds, {1, 0, 0});
    WARN(line_of("rig check with synchronous FULL", found));
    CHECK(found.lost > 0);
    CHECK(found.damaged == 0);
}
