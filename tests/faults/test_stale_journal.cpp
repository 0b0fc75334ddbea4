#include "chain_again.hpp"
#include "season_script.hpp"
#include "shim_vfs.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using ledger::ledger_file;

namespace {

/// Corrects a ticket on a disk that fails as the journal is to be unlinked: as after a crash, the journal stays.
void leave_a_journal(const std::string& path) {
    const shim_vfs shim{
        [](const disk_event& event) { return event.what == disk_call::unlink ? SQLITE_IOERR_DELETE : SQLITE_OK; }};
    CHECK_THROWS_AS(correct_one(path, records::kind::ticket, {"T1"}, {{"gross", "151"}, {"net", "111"}}),
                    records::io_error);
    REQUIRE(std::filesystem::exists(path + "-journal"));
}

struct crashed_ledger {
    temporary_folder folder;
    std::string path = folder.file("basin.tarewell"), backup = folder.file("backup.tarewell");
    ledger_state backed_up;

    crashed_ledger() {
        for (const auto& [name, text] : base_files())
            folder.write(name, text);
        const auto deeds = season_script(folder.path());
        for (const auto& deed : {deeds[0], deeds[1]})
            deed.run(path);
        ledger::back_up(ledger_file::open(path), backup);
        backed_up = state_of(backup);
        for (const auto& deed : {deeds[2], deeds[3]})
            deed.run(path);
        leave_a_journal(path);
    }
};

void check_restored(const crashed_ledger& of) {
    CHECK(state_of(of.path) == of.backed_up);
    CHECK(chain_again{of.path}.text("PRAGMA integrity_check") == "ok");
    const auto chain = chain_again{of.path}.all();
    CHECK(chain.worked_out == chain.stored);
}

} // namespace

TEST_CASE("a backup restored where a crashed ledger was taken away does not get that ledger's journal") {
    const crashed_ledger crashed;
    std::filesystem::remove(crashed.path);
    ledger::restore(crashed.backup, crashed.path);
    check_restored(crashed);
    CHECK_FALSE(std::filesystem::exists(crashed.path + "-journal"));
}

TEST_CASE("a backup restored over a file that was emptied beside its journal does not get that journal") {
    const crashed_ledger crashed;
    std::filesystem::resize_file(crashed.path, 0);
    ledger::restore(crashed.backup, crashed.path);
    check_restored(crashed);
}

TEST_CASE("a backup is not made beside a journal of its name") {
    const crashed_ledger crashed;
    const auto copy = crashed.folder.file("copy.tarewell");
    std::filesystem::copy_file(crashed.path + "-journal", copy + "-journal");
    CHECK_THROWS_AS(ledger::back_up(ledger_file::open(crashed.path), copy), records::input_error);
    CHECK_FALSE(std::filesystem::exists(copy));
}
