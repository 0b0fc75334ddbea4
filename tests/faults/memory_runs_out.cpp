// A program apart: it puts its own allocators under C++ and SQLite, and lets the memory run out at the
// Nth allocation of an intake, for N over the whole run. Each must end in an error that is told, with
// nothing taken in; the same intake then works.
#include "ledger/chain_again.hpp"
#include "season_script.hpp"

#include <cstdio>
#include <cstdlib>
#include <malloc.h>
#include <new>
#include <sqlite3.h>

namespace {

/// Allocations since it was armed; at `fails_at` one fails, with `goes_on` every later one too.
struct {
    bool armed = false;
    bool goes_on = false;
    long seen = 0, fails_at = 0, failed = 0;

    bool fails_now() {
        if (!armed) return false;
        ++seen;
        if (fails_at == 0 || (goes_on ? seen < fails_at : seen != fails_at)) return false;
        ++failed;
        return true;
    }
} memory;

void* sqlite_allocate(int size) { return memory.fails_now() ? nullptr : std::malloc(static_cast<std::size_t>(size)); }
void* sqlite_grow(void* what, int size) {
    return memory.fails_now() ? nullptr : std::realloc(what, static_cast<std::size_t>(size));
}
int sqlite_size(void* what) { return static_cast<int>(malloc_usable_size(what)); }
int sqlite_round(int size) { return (size + 7) & ~7; }
int sqlite_begin(void*) { return SQLITE_OK; }
void sqlite_end(void*) {}

} // namespace

// Not inlined: the compiler would see malloc and free without new and delete between, and warn.
[[gnu::noinline]] void* operator new(std::size_t size) {
    void* made = memory.fails_now() ? nullptr : std::malloc(size == 0 ? 1 : size);
    if (made == nullptr) throw std::bad_alloc{};
    return made;
}
[[gnu::noinline]] void operator delete(void* what) noexcept { std::free(what); }
[[gnu::noinline]] void operator delete(void* what, std::size_t) noexcept { std::free(what); }

namespace {

using namespace tarewell;
using namespace tarewell::tests;

struct rig {
    temporary_folder folder;
    std::string path, empty_bytes;
    ledger_state empty, full;
    std::vector<deed_at_the_desk> deeds;
    long runs = 0, out_of_memory = 0, other_errors = 0, borne = 0, wrong = 0;

    rig() : path{folder.file("basin.tarewell")}, deeds{season_script(folder.path())} {
        for (const auto& [name, text] : base_files()) folder.write(name, text);
        deeds[0].run(path);
        empty_bytes = bytes_in(path);
        empty = state_of(path);
        deeds[1].run(path);
        full = state_of(path);
    }

    void start_again() {
        std::filesystem::remove(path + "-journal");
        std::ofstream{path, std::ios::binary}.write(empty_bytes.data(), static_cast<std::streamsize>(empty_bytes.size()));
    }
    /// Allocations of the whole intake when none fails.
    long count() {
        start_again();
        memory = {true, false, 0, 0, 0};
        deeds[1].run(path);
        memory.armed = false;
        return memory.seen;
    }
    void complain(long at, const char* what) {
        ++wrong;
        std::printf("allocation %ld: %s\n", at, what);
    }
    void check(long at, bool refused) {
        if (!refused) {
            ++borne;
            if (state_of(path) != full) complain(at, "came through, but not all of it is there");
            return;
        }
        if (state_of(path) != empty) return complain(at, "refused, but the ledger changed");
        deeds[1].run(path);
        const auto chain = chain_again{path}.all();
        if (state_of(path) != full || chain.worked_out != chain.stored) complain(at, "the intake done again came out wrong");
    }
    void fail_at(long at, bool goes_on) {
        start_again();
        ++runs;
        bool refused = true;
        memory = {true, goes_on, 0, at, 0};
        try {
            deeds[1].run(path);
            refused = false;
        } catch (const std::bad_alloc&) {
            memory.armed = false;
            ++out_of_memory;
        } catch (const ledger::io_error& thrown) {
            memory.armed = false;
            ++other_errors;
        } catch (const std::exception& thrown) {
            memory.armed = false;
            complain(at, thrown.what());
        }
        memory.armed = false;
        check(at, refused);
    }
};

} // namespace

int main(int count, char** values) {
    const sqlite3_mem_methods methods{sqlite_allocate, std::free, sqlite_grow, sqlite_size,
                                      sqlite_round,    sqlite_begin, sqlite_end, nullptr};
    if (sqlite3_config(SQLITE_CONFIG_MALLOC, &methods) != SQLITE_OK) return 2;
    std::set_terminate([] {
        memory.armed = false;
        std::printf("ended by terminate, out of memory at allocation %ld\n", memory.fails_at);
        std::abort();
    });
    const long wanted = count > 1 ? std::atol(values[1]) : 600; // runs; the first argument asks for more
    rig trials;
    const long whole = trials.count();
    // The first hundred each, where the ledger is opened, then evenly to the end.
    const long step = std::max(1L, whole / std::max(1L, wanted / 2 - 100));
    for (const bool goes_on : {false, true})
        for (long at = 1; at <= whole; at += at < 100 ? 1 : step) trials.fail_at(at, goes_on);
    std::printf("out of memory: %ld runs over %ld allocations of an intake, %ld told as out of memory, %ld as an "
                "error of the disk, %ld borne, %ld wrong\n",
                trials.runs, whole, trials.out_of_memory, trials.other_errors, trials.borne, trials.wrong);
    return trials.wrong == 0 && trials.out_of_memory > 0 ? 0 : 1;
}
