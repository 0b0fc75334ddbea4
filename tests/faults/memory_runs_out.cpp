// A program apart: it puts its own allocators under everything (C++, SQLite, libcrypto) and lets the memory run
// out at the Nth allocation of an intake, a closing, a backup and a workbook, for N over the whole run; and at
// limits of all memory from next to nothing up to enough. Each must end in an error that is told, with nothing
// done by half; the same job then works.
#include "memory_jobs.hpp"

#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <malloc.h>
#include <new>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

namespace {

/// Allocations since it was armed; at `fails_at` one fails, with `goes_on` every later one too.
struct {
    bool armed = false;
    bool goes_on = false;
    bool only_new = false; ///< malloc for itself never fails
    long seen = 0, fails_at = 0;

    bool fails_now() {
        if (!armed) return false;
        ++seen;
        if (fails_at == 0 || (goes_on ? seen < fails_at : seen != fails_at)) return false;
        errno = ENOMEM;
        return true;
    }
    bool malloc_fails_now() { return !only_new && fails_now(); }
} memory;

} // namespace

// glibc's own, by the names that stay when a program brings others.
extern "C" {
void* __libc_malloc(std::size_t size);                    // NOLINT
void* __libc_calloc(std::size_t count, std::size_t size); // NOLINT
void* __libc_realloc(void* what, std::size_t size);       // NOLINT

void* malloc(std::size_t size) { return memory.malloc_fails_now() ? nullptr : __libc_malloc(size); }
void* calloc(std::size_t count, std::size_t size) {
    return memory.malloc_fails_now() ? nullptr : __libc_calloc(count, size);
}
void* realloc(void* what, std::size_t size) { return memory.malloc_fails_now() ? nullptr : __libc_realloc(what, size); }
}

// Not inlined: the compiler would see malloc and free without new and delete between, and warn.
[[gnu::noinline]] void* operator new(std::size_t size) {
    void* made = memory.fails_now() ? nullptr : __libc_malloc(size == 0 ? 1 : size);
    if (made == nullptr) throw std::bad_alloc{};
    return made;
}
[[gnu::noinline]] void operator delete(void* what) noexcept { std::free(what); }
[[gnu::noinline]] void operator delete(void* what, std::size_t) noexcept { std::free(what); }

namespace {

using namespace tarewell;
using namespace tarewell::tests;

enum ending { came_through, out_of_memory, other_error, wrong_error };

struct counts {
    long runs = 0, out_of_memory = 0, other_errors = 0, borne = 0, wrong = 0;
};

/// Bytes of address space in use.
std::size_t in_use() {
    std::size_t pages = 0;
    std::ifstream{"/proc/self/statm"} >> pages;
    return pages * static_cast<std::size_t>(sysconf(_SC_PAGESIZE));
}

/// One job, tried with little memory in many ways.
class trials {
  public:
    explicit trials(const memory_job& job) : job_{job} {}

    /// Allocations of the whole job when none fails.
    long count() {
        job_.start_again();
        memory = {true, false, job_.only_the_programs_own, 0, 0};
        job_.run();
        memory.armed = false;
        return memory.seen;
    }
    void fail_at(long at, bool goes_on) {
        try_it(fmt::format("allocation {}{}", at, goes_on ? " and all after it" : ""), [&] {
            memory = {true, goes_on, job_.only_the_programs_own, 0, at};
        });
    }
    /// With so much more than what is in use before.
    void limit_to(std::size_t bytes) {
        try_it(fmt::format("{} KiB more", bytes / 1024), [&] {
            malloc_trim(0);
            const rlimit limit{in_use() + bytes, RLIM_INFINITY};
            setrlimit(RLIMIT_AS, &limit);
        });
    }
    counts found;

  private:
    void try_it(const std::string& how, const std::function<void()>& make_short) {
        job_.start_again();
        ++found.runs;
        const int status = run_apart(make_short);
        const bool done = WIFEXITED(status) && WEXITSTATUS(status) == came_through;
        if (!WIFEXITED(status))
            complain(how, fmt::format("ended by signal {}", WTERMSIG(status)));
        else if (done)
            ++found.borne;
        else if (WEXITSTATUS(status) == out_of_memory)
            ++found.out_of_memory;
        else if (WEXITSTATUS(status) == other_error)
            ++found.other_errors;
        else
            complain(how, "ended in an error of another kind");
        const auto problem = done ? job_.problem_when_done() : job_.problem_when_refused();
        if (!problem.empty()) complain(how, problem);
    }
    /// In a process of its own: a crash there is counted here.
    int run_apart(const std::function<void()>& make_short) {
        std::fflush(nullptr);
        const pid_t child = fork();
        if (child < 0) throw std::runtime_error("no process to run the trial in");
        if (child == 0) _exit(ending_with(make_short));
        int status = 0;
        waitpid(child, &status, 0);
        return status;
    }
    int ending_with(const std::function<void()>& make_short) {
        if (std::freopen("/dev/null", "w", stderr) == nullptr) return wrong_error; // the workbook's library talks there
        make_short();
        int code = came_through;
        try {
            job_.run();
        } catch (const std::bad_alloc&) {
            code = out_of_memory;
        } catch (const records::io_error&) {
            code = other_error;
        } catch (const std::exception& thrown) {
            memory.armed = false;
            std::printf("%s: %s\n", job_.name.c_str(), thrown.what());
            std::fflush(stdout);
            code = wrong_error;
        }
        memory.armed = false;
        return code;
    }
    void complain(const std::string& how, const std::string& what) {
        ++found.wrong;
        std::printf("%s, %s: %s\n", job_.name.c_str(), how.c_str(), what.c_str());
    }

    const memory_job& job_;
};

bool tell(const char* what, const std::string& how, const memory_job& job, const counts& found) {
    std::printf("%s: %ld runs over %s of %s, %ld told as out of memory, %ld as an error of the disk, %ld borne, "
                "%ld wrong\n",
                what, found.runs, how.c_str(), job.name.c_str(), found.out_of_memory, found.other_errors, found.borne,
                found.wrong);
    return found.wrong == 0 && found.out_of_memory > 0;
}

bool fail_at_allocations(const memory_job& job, long wanted) {
    trials each{job};
    const long whole = each.count();
    // The first hundred each, where the ledger is opened, then evenly to the end.
    const long step = std::max(1L, whole / std::max(1L, wanted / 2 - 100));
    for (const bool goes_on : {false, true})
        for (long at = 1; at <= whole; at += at < 100 ? 1 : step)
            each.fail_at(at, goes_on);
    return tell("out of memory", fmt::format("{} allocations", whole), job, each.found);
}

bool limit_all_memory(const memory_job& job, long wanted) {
    constexpr std::size_t enough = 12U << 20U;
    trials each{job};
    constexpr long most = 3'000; // a page of memory each
    const auto step = enough / static_cast<std::size_t>(std::min(wanted, most));
    for (std::size_t bytes = 0; bytes <= enough; bytes += step)
        each.limit_to(bytes);
    const auto how = fmt::format("limits up to {} MiB", enough >> 20U);
    return tell("short of memory", how, job, each.found) && each.found.borne > 0;
}

} // namespace

int main(int count, char** values) {
    const long wanted = count > 1 ? std::atol(values[1]) : 600; // runs of each job; the first argument asks for more
    const memory_rig rig;
    bool good = true;
    for (const auto& job : rig.jobs()) {
        good = fail_at_allocations(job, wanted) && good;
        if (job.only_the_programs_own) good = limit_all_memory(job, wanted) && good;
    }
    return good ? 0 : 1;
}
