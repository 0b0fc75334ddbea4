#include "disk_faults.hpp"

using namespace tarewell;
using namespace tarewell::tests;

namespace {

/// One deed of the season with the ledger as it stood before.
struct trial {
    const deed_at_the_desk& deed;
    std::string before_bytes;
    ledger_state before, after;
};

/// What the ledger holds after the fault, and that the same deed then works.
std::string problem_after(const trial& of, const std::string& path, const outcome_of_fault& result,
                          tally_of_faults& tally) {
    const auto now = state_of(path);
    if (result.error.empty()) {
        ++tally.borne;
        return now == of.after ? "" : "came through, but not all of it is there";
    }
    ++tally.refused;
    if (!result.clear) return "ended in another error than of the disk, or one without advice: " + result.error;
    // With the journal unlinked the deed is done; only the folder's sync failed. It is whole.
    if (now == of.after && result.at == disk_call::sync_folder)
        ++tally.whole_though_refused;
    else if (now != of.before)
        return "refused, but the ledger changed";
    of.deed.run(path);
    return state_of(path) == of.after && is_sound(path) ? "" : "the deed done again did not come out right";
}

void fail_at_every_call(const trial& of, const std::string& path, const fault_plan& plan, tally_of_faults& tally) {
    for (std::size_t nth = 1;; nth += plan.every) {
        put_bytes(path, of.before_bytes);
        const auto result = run_with_fault(of.deed, path, nth, plan);
        if (!result.injected) return;
        ++tally.injected;
        const auto problem = problem_after(of, path, result, tally);
        if (!problem.empty())
            tally.wrong.push_back(
                fmt::format("{}, call {} (kind {}): {}", of.deed.name, nth, static_cast<int>(result.at), problem));
    }
}

tally_of_faults fail_everywhere(const fault_plan& plan) {
    const temporary_folder folder{quick_disk()};
    for (const auto& [name, text] : base_files())
        folder.write(name, text);
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
        put_bytes(path, after_bytes);
    }
    return tally;
}

/// Fails at every call of a backup in turn: there is no copy then, nor anything that looks like one.
tally_of_faults fail_while_backing_up(const fault_plan& plan) {
    const temporary_folder folder{quick_disk()};
    for (const auto& [name, text] : base_files())
        folder.write(name, text);
    const auto path = folder.file("basin.tarewell"), copy = folder.file("copy.tarewell");
    const auto deeds = season_script(folder.path());
    for (const auto& deed : {deeds[0], deeds[1]})
        deed.run(path);
    const deed_at_the_desk back_up{"back up",
                                   [&](const auto& at) { ledger::back_up(ledger::ledger_file::open(at), copy); }};
    const auto state = state_of(path);
    const auto files_before = names_in(folder.path());
    tally_of_faults tally;
    for (std::size_t nth = 1;; nth += plan.every) {
        const auto result = run_with_fault(back_up, path, nth, plan);
        if (!result.injected) return tally;
        ++tally.injected;
        ++(result.error.empty() ? tally.borne : tally.refused);
        const bool left_nothing = result.error.empty() || names_in(folder.path()) == files_before;
        if (!result.clear || !left_nothing || state_of(path) != state)
            tally.wrong.push_back(
                fmt::format("back up, call {} (kind {}): {}", nth, static_cast<int>(result.at), result.error));
        if (!result.error.empty()) back_up.run(path);
        if (state_of(copy) != state || !is_sound(copy))
            tally.wrong.push_back(fmt::format("back up, call {}: the copy differs", nth));
        std::filesystem::remove(copy);
    }
}

} // namespace

TEST_CASE("an error of the disk at any one call is told as such and leaves the ledger as it was") {
    check("I/O errors, once", fail_everywhere({trouble::io_error, false}));
}

TEST_CASE("a disk that fails from any call on leaves the ledger as it was") {
    check("I/O errors, from then on", fail_everywhere({trouble::io_error, true, each(3)}));
}

TEST_CASE("a disk that is full at any write leaves the ledger as it was") {
    check("disk full, once", fail_everywhere({trouble::disk_full, false}));
    check("disk full, from then on", fail_everywhere({trouble::disk_full, true, each(3)}));
}

TEST_CASE("a backup whose disk fails or is full at any call leaves no copy and the ledger as it was") {
    check("backup, I/O errors, from then on", fail_while_backing_up({trouble::io_error, true}));
    check("backup, I/O errors, once", fail_while_backing_up({trouble::io_error, false}));
    check("backup, disk full", fail_while_backing_up({trouble::disk_full, true}));
}
