#include "full_disk.hpp"
#include "ledger/keeping.hpp"
#include "quiet_season.hpp"
#include "workbook_parts.hpp"

#include <catch2/catch.hpp>

#include <cstdlib>

using namespace tarewell;
using namespace tarewell::tests;

namespace {

struct tally {
    std::size_t refused = 0, written = 0;
    std::vector<std::string> wrong;
};

/// Writes the file on a disk as small as `hinder` makes it, time after time, until three came out whole.
template <class Hinder, class Write>
tally write_on_growing(const std::string& name, const Hinder& hinder, const Write& write) {
    const temporary_folder room;
    write(room.file(name));
    const auto whole = bytes_in(room.file(name));
    tally found;
    for (std::size_t size = 1; found.written < 3; ++size) {
        const temporary_folder folder;
        const auto hindered = hinder(folder, size);
        if (!hindered->holds()) return found;
        const auto message = io_error_of([&] { write(folder.file(name)); });
        const auto left = files_in(folder);
        ++(message.empty() ? found.written : found.refused);
        if (message.empty() ? left != 1 || bytes_in(folder.file(name)) != whole
                            : left != 0 || message.find(name) == std::string::npos)
            found.wrong.push_back(fmt::format("size {}: {} files, {}", size, left, message));
    }
    return found;
}

void check(const std::string& what, const tally& found) {
    WARN(fmt::format("{}: {} refused, {} written, {} wrong", what, found.refused, found.written, found.wrong.size()));
    CHECK(found.wrong == std::vector<std::string>{});
    CHECK(found.refused > 0);
}

/// Where mounting is not allowed: each file is limited in place of all together.
struct limited_files : file_size_limit {
    explicit limited_files(std::size_t blocks) : file_size_limit{4096 * blocks} {}
    [[nodiscard]] static bool holds() { return true; }
};

bool may_mount() {
    const temporary_folder folder;
    return small_disk{folder, 1}.holds();
}

template <class Write> void try_sizes(const std::string& what, const std::string& name, const Write& write) {
    if (!may_mount()) {
        const auto limited = [](const temporary_folder&, std::size_t size) {
            return std::make_unique<limited_files>(size);
        };
        return check(what + ", files limited", write_on_growing(name, limited, write));
    }
    const auto blocks = [](const temporary_folder& folder, std::size_t size) {
        return std::make_unique<small_disk>(folder, size);
    };
    check(what + ", disk of so many blocks", write_on_growing(name, blocks, write));
    const auto files = [](const temporary_folder& folder, std::size_t size) {
        constexpr std::size_t room = 10'000;
        return std::make_unique<small_disk>(folder, room, size - 1);
    };
    check(what + ", disk of so many files", write_on_growing(name, files, write));
}

} // namespace

TEST_CASE("on a disk of any size a workbook is an io_error with nothing left, or whole") {
    const reckoned_season small{quiet_season()}, sample{"sample_data/season"};
    try_sizes("workbook", "q.xlsx", [&](const std::string& to) { write_workbook(small, {2026, 2}, to); });
    try_sizes("the sample's workbook", "q.xlsx", [&](const std::string& to) { write_workbook(sample, {2026, 2}, to); });
}

TEST_CASE("on a disk of any size a backup is an io_error with nothing left, or whole") {
    reckoned_season season{quiet_season()};
    try_sizes("backup", "copy.tarewell", [&](const std::string& to) { ledger::back_up(season.file(), to); });
}

TEST_CASE("a full temporary folder takes nothing from a workbook") {
    const reckoned_season season{"sample_data/season"};
    const temporary_folder reports, full;
    write_workbook(season, {2026, 2}, reports.file("whole.xlsx"));
    const small_disk disk{full, 1};
    if (disk.holds()) (void)full.write("filler", std::string(4096, 'x'));
    const auto* before = std::getenv("TMPDIR");
    const std::string kept = before == nullptr ? "" : before;
    // Where nothing may be mounted, a temporary folder that is not there.
    setenv("TMPDIR", disk.holds() ? full.path().c_str() : full.file("missing").c_str(), 1);
    const auto message = io_error_of([&] { write_workbook(season, {2026, 2}, reports.file("q.xlsx")); });
    before == nullptr ? unsetenv("TMPDIR") : setenv("TMPDIR", kept.c_str(), 1);
    CHECK(message.empty());
    CHECK(bytes_in(reports.file("q.xlsx")) == bytes_in(reports.file("whole.xlsx")));
    CHECK(files_in(reports) == 2);
}
