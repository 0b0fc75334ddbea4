#include "base_season.hpp"
#include "chain_again.hpp"

#include <catch2/catch.hpp>

#include <atomic>
#include <chrono>
#include <fcntl.h>
#include <nlohmann/json.hpp>
#include <spawn.h>
#include <sys/wait.h>
#include <thread>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;
using std::chrono::steady_clock;

extern char** environ;

namespace {

struct finished {
    int code = -1;
    std::string out, err;
};

/// Runs the built program in a process of its own and waits for it.
finished run_program(const temporary_folder& folder, std::vector<std::string> arguments) {
    static std::atomic<int> number{0};
    const auto name = fmt::format("run_{}", ++number);
    const auto out = folder.file(name + ".out");
    const auto err = folder.file(name + ".err");
    arguments.insert(arguments.begin(), {program_path(), "--ledger", folder.file("basin.tarewell"), "--who", "Ola"});
    std::vector<char*> values;
    for (auto& each : arguments)
        values.push_back(each.data());
    values.push_back(nullptr);
    posix_spawn_file_actions_t actions;
    posix_spawn_file_actions_init(&actions);
    posix_spawn_file_actions_addopen(&actions, 1, out.c_str(), O_WRONLY | O_CREAT, 0600);
    posix_spawn_file_actions_addopen(&actions, 2, err.c_str(), O_WRONLY | O_CREAT, 0600);
    pid_t child = 0;
    const int failed = posix_spawn(&child, program_path().c_str(), &actions, nullptr, values.data(), environ);
    posix_spawn_file_actions_destroy(&actions);
    if (failed != 0) throw std::runtime_error("cannot start the program");
    int status = 0;
    waitpid(child, &status, 0);
    return {WIFEXITED(status) ? WEXITSTATUS(status) : -1, bytes_in(out), bytes_in(err)};
}

std::vector<std::string> held_receipt(const std::string& id) {
    return {"record", "receipt", "--receipt", id,   "--date",    "2026-06-10",
            "--site", "S1",      "--bundle",  "B5", "--outcome", "held"};
}

constexpr int writers = 4, receipts_each = 25, readers = 2, readings_each = 25;

/// What the threads found; each failed run as one line.
struct log_of_runs {
    std::mutex lock;
    std::vector<std::string> failures;
    void add(std::string line) {
        const std::lock_guard held{lock};
        failures.push_back(std::move(line));
    }
};

void write_receipts(const temporary_folder& folder, int writer, log_of_runs& log) {
    for (int i = 1; i <= receipts_each; ++i) {
        const auto done = run_program(folder, held_receipt(fmt::format("W{}-{}", writer, i)));
        if (done.code != 0) log.add(fmt::format("writer {} exit {}: {}", writer, done.code, done.err));
    }
}

/// Each reading is of one state, and none is older than the one before.
void read_figures(const temporary_folder& folder, log_of_runs& log) {
    std::int64_t before = 0;
    for (int i = 1; i <= readings_each; ++i) {
        const auto done = run_program(folder, {"quarter", "show", "2026-Q2", "--json"});
        if (done.code != 0) {
            log.add(fmt::format("reader exit {}: {}", done.code, done.err));
            continue;
        }
        const auto as_of = nlohmann::json::parse(done.out).at("as_of").get<std::int64_t>();
        if (as_of < before) log.add(fmt::format("a reading as of {} came after one as of {}", as_of, before));
        before = as_of;
    }
}

void make_ledger(const temporary_folder& folder) {
    for (const auto& [name, text] : base_files())
        folder.write(name, text);
    auto file = ledger::ledger_file::create(folder.file("basin.tarewell"));
    intake::take_season(file, folder.path(), standing_still());
}

} // namespace

TEST_CASE("several processes that record and read together lose no entry and are never told busy") {
    const temporary_folder folder;
    make_ledger(folder);
    const auto before = ledger::ledger_file::open(folder.file("basin.tarewell")).head().seq;
    log_of_runs log;
    std::vector<std::thread> desks;
    for (int i = 1; i <= writers; ++i)
        desks.emplace_back([&, i] { write_receipts(folder, i, log); });
    for (int i = 1; i <= readers; ++i)
        desks.emplace_back([&] { read_figures(folder, log); });
    for (auto& each : desks)
        each.join();
    CHECK(log.failures == std::vector<std::string>{});
    chain_again file{folder.file("basin.tarewell")};
    const auto chain = file.all();
    WARN(fmt::format("two at once: {} processes of {} writers and {} readers, {} entries recorded, {} there, {} failed",
                     writers * receipts_each + readers * readings_each, writers, readers, writers * receipts_each,
                     static_cast<std::int64_t>(chain.stored.size()) - before, log.failures.size()));
    CHECK(chain.stored.size() == static_cast<std::size_t>(before + writers * receipts_each));
    CHECK(chain.worked_out == chain.stored);
    CHECK(file.text("SELECT count(DISTINCT receipt) FROM receipts WHERE receipt LIKE 'W%'") ==
          std::to_string(writers * receipts_each));
    CHECK(file.text("PRAGMA integrity_check") == "ok");
}

TEST_CASE("a ledger held past the waiting time is told busy with exit 75, and one let go in time is not") {
    const temporary_folder held_long, held_shortly;
    make_ledger(held_long);
    make_ledger(held_shortly);
    SQLite::Database long_lock{held_long.file("basin.tarewell"), SQLite::OPEN_READWRITE};
    SQLite::Database short_lock{held_shortly.file("basin.tarewell"), SQLite::OPEN_READWRITE};
    long_lock.exec("BEGIN EXCLUSIVE");
    short_lock.exec("BEGIN EXCLUSIVE");
    finished writing, reading, patient;
    const auto begun = steady_clock::now();
    std::thread writer{[&] { writing = run_program(held_long, held_receipt("W1")); }};
    std::thread reader{[&] { reading = run_program(held_long, {"quarter", "show", "2026-Q2"}); }};
    std::thread waiter{[&] { patient = run_program(held_shortly, held_receipt("W1")); }};
    std::this_thread::sleep_for(std::chrono::seconds{2});
    short_lock.exec("ROLLBACK");
    waiter.join();
    writer.join();
    reader.join();
    const std::chrono::duration<double> waited = steady_clock::now() - begun;
    long_lock.exec("ROLLBACK");
    WARN(fmt::format("a lock held past the waiting time: exit {} and {} after {:.1f} s; a lock held 2 s: exit {}",
                     writing.code, reading.code, waited.count(), patient.code));
    CHECK(patient.code == 0);
    for (const auto& each : {writing, reading}) {
        CHECK(each.code == 75);
        CHECK(each.out.empty());
        CHECK_THAT(each.err, Contains("is in use by another program") && Contains("nothing was changed") &&
                                 Contains("try again"));
    }
    CHECK(waited.count() >= 9.5);
    CHECK(run_program(held_long, held_receipt("W1")).code == 0);
}
